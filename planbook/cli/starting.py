"""Starts a new design from the small one that comes with the program."""

import json
from importlib import resources
from pathlib import Path

from planbook.cli.refusal import Refusal, cannot

FILES = ("design.toml", "steps.md")
SCHEMAS = ("design.schema.json", "handbook.schema.json", "language.schema.json")


def start(folder: Path) -> tuple[Path, ...]:
    """Copy the starting design and the JSON Schemas of its files into a folder; return the files written.

    Raises Refusal if the folder is not empty or cannot be written.
    """
    from planbook.reader import book_schema, design_schema, language_schema

    texts = {name: resources.files("planbook.cli").joinpath("starter", name).read_bytes() for name in FILES}
    for name, schema in zip(SCHEMAS, (design_schema(), book_schema(), language_schema()), strict=True):
        texts[name] = (json.dumps(schema, indent=2, ensure_ascii=False) + "\n").encode()
    try:
        if folder.exists() and not folder.is_dir():
            raise Refusal(f"`{folder}` is a file; a design needs a folder of its own")
        if folder.exists() and any(folder.iterdir()):
            raise Refusal(f"`{folder}` is not empty; nothing was written")
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in texts.items():
            (folder / name).write_bytes(text)
    except OSError as error:
        raise cannot("cannot be written", error) from None
    return tuple(folder / name for name in texts)
