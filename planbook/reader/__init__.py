"""Reads design.toml and steps.md into a Design, with findings for whatever is wrong in them."""

from planbook.reader.kinds import ALL as KINDS
from planbook.reader.read import Reading, read_design
from planbook.reader.schema import book_schema, design_schema, language_schema, rack_schemas

__all__ = ["KINDS", "Reading", "book_schema", "design_schema", "language_schema", "rack_schemas", "read_design"]
