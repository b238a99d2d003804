#!/usr/bin/env python
"""Start Django's commands; the demo house is chosen here, before any database is named."""

import os
import sys


def main():
    if sys.argv[1:2] == ["demo"]:
        os.environ["MAYTHORN_HOUSE"] = "demo"
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planner.settings")
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
