import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))  # readback.py stands beside the tests

from hypothesis import settings

settings.register_profile("untimed", deadline=None)  # the machine may be busy; nothing here is about time
settings.load_profile("untimed")
