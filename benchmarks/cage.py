"""How long a cage takes: 60 tubes under three load cases, and a whole process that answers for the demo's.

python benchmarks/cage.py
"""

import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
from cages import DEMO, cage_of, template
from tintop.car.cage import Cage, CageNode, Role, Tube, pieces
from tintop.car.cage_loads import standard_loads
from tintop.questions.will_the_cage_hold import will_the_cage_hold

ROUNDS = 5
PROCESS = (
    "from tintop.store.documents.cage_reader import read_cage\n"
    "from tintop.questions.will_the_cage_hold import will_the_cage_hold\n"
    f"described = read_cage({str(DEMO)!r})\n"
    "print(will_the_cage_hold(described.cage, described.loads).answer.sentence)\n"
)


def sixty_pieces() -> Cage:
    """A template with every bar, and struts between the middle of stays and hoop until 60 pieces stand."""
    cage = cage_of(template(roof_diagonals=2))
    thin = Tube(diameter=0.025, wall=0.0015)
    nodes, members = list(cage.nodes), list(cage.members)
    anchors = [node.name for node in cage.nodes if "foot" not in node.name]
    number = 0
    while len(members) < 60:
        anchor = anchors[number % len(anchors)]
        x, y, z = cage.position(anchor)
        node = CageNode(name=f"bracket {number}", position=(x + 0.02, y + 0.03, z + 0.12 + 0.001 * number))
        nodes.append(node)
        members += pieces(node.name, Role.OTHER, (anchor, node.name), thin)
        number += 1
    return replace(cage, nodes=tuple(nodes), members=tuple(members))


def seconds(call) -> float:
    taken = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        call()
        taken.append(time.perf_counter() - start)
    return median(taken)


def rows() -> list[tuple[str, str, str, bool]]:
    """Rows of a table: what, how long, the limit, met."""
    cage = sixty_pieces()
    loads = standard_loads(cage)[:3]
    held = seconds(lambda: will_the_cage_hold(cage, loads))
    process = seconds(
        lambda: subprocess.run([sys.executable, "-c", PROCESS], check=True, capture_output=True)
    )
    return [
        ("a cage of 60 tubes under three load cases", f"{held:.2f} s", "2 s", held <= 2.0),
        ("the demo's cage under six loads, whole process", f"{process:.2f} s", "3 s", process <= 3.0),
    ]


if __name__ == "__main__":
    for row in rows():
        print(*row, sep=" | ")
