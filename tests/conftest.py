import os
import sys
from pathlib import Path

from hypothesis import settings

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the commands do
sys.path.insert(0, str(Path(__file__).parent))
settings.register_profile("untimed", deadline=None)  # how long an example takes is for benchmarks to say
settings.register_profile("repeatable", deadline=None, derandomize=True)
# a submission is judged by the same examples each time; at home they vary
settings.load_profile("repeatable" if os.environ.get("CI") else "untimed")
