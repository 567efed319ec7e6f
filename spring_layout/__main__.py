"""``python -m spring_layout`` does what ``spring-layout`` does."""

import sys

from spring_layout.cli import main

sys.exit(main())
