"""The hub: what the doors ask for, whether it stands in single documents or in a garage's folder."""

from tintop.garage.asking import Lasting as Lasting
from tintop.garage.asking import Line as Line
from tintop.garage.asking import Quickness as Quickness
from tintop.garage.asking import ask_how_quick as ask_how_quick
from tintop.garage.asking import ask_will_it_last as ask_will_it_last
from tintop.garage.asking import ask_will_the_cage_hold as ask_will_the_cage_hold
from tintop.garage.asking import check_cases as check_cases
from tintop.garage.asking import demo_path as demo_path
from tintop.garage.asking import driven_path as driven_path
from tintop.garage.asking import envelope_of as envelope_of
from tintop.garage.asking import load_cage as load_cage
from tintop.garage.asking import load_car as load_car
from tintop.garage.asking import load_circuit as load_circuit
from tintop.garage.asking import load_event as load_event
from tintop.garage.asking import load_weather as load_weather
from tintop.garage.asking import save_lap_charts as save_lap_charts
from tintop.garage.asking import save_race_charts as save_race_charts
from tintop.garage.asking import save_trace as save_trace
from tintop.garage.asking import schema as schema
from tintop.garage.asking import write_demo as write_demo
