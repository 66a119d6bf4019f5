"""``python -m hatchbook``."""

import sys

from hatchbook.app import main

sys.exit(main())
