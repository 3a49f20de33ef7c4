"""The operations, one file each: fields, effect on solids, tool, supplies, time, and how it is drawn."""
