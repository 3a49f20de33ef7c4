"""Starts a new design from one of the small ones that come with the program."""

import json
from importlib import resources
from pathlib import Path

from planbook.cli.refusal import Refusal, cannot

FILES = ("design.toml", "steps.md")
OUTLINE = "outline.svg"
SCHEMAS = ("design.schema.json", "handbook.schema.json", "language.schema.json")


def start(folder: Path, kind: str | None = None, drawing: Path | None = None) -> tuple[Path, ...]:
    """Copy a starting design and the JSON Schemas of its files into a folder; return the files written.

    A drawing, for the kind `drawing` alone, takes the place of the outline that comes with it. Raises Refusal if the
    folder is not empty or cannot be written, or the drawing has no outline to take.
    """
    from planbook.reader import book_schema, design_schema, language_schema

    if drawing is not None and kind != "drawing":
        raise Refusal("`--drawing` goes with `--kind drawing`")
    texts = _files(kind)
    if drawing is not None:
        from planbook.cli.start_drawing import with_drawing

        texts = with_drawing(texts, drawing)
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


def _files(kind: str | None) -> dict[str, bytes]:
    """The files of a starting design by their names."""
    inside = resources.files("planbook")
    source = inside.joinpath("cli", "starter") if kind is None else inside.joinpath("starters", kind)
    return {name: source.joinpath(name).read_bytes() for name in (*FILES, OUTLINE) if source.joinpath(name).is_file()}
