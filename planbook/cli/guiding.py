"""Tells the handbook what commands there are, and has it written."""

from collections.abc import Iterator
from pathlib import Path

import click

from planbook.cli.refusal import Refusal, cannot
from planbook.guide import Command, Option


def write(program: click.Group, out: Path) -> tuple[Path, ...]:
    """Write the handbook into a folder; return the files. Raises Refusal where it cannot be done."""
    from planbook.booklet import LayoutProblem
    from planbook.guide import write_guide
    from planbook.press import MissingLibrary

    try:
        return write_guide(commands_of(program), out).files
    except (MissingLibrary, LayoutProblem) as problem:
        raise Refusal(str(problem)) from None
    except OSError as error:
        raise cannot("cannot be written", error) from None


def commands_of(group: click.Group) -> tuple[Command, ...]:
    """Every command of a group in the order in which it was added, and those of groups inside it."""
    return tuple(_commands(group, click.Context(group, info_name="planbook", **group.context_settings)))


def _commands(group: click.Group, above: click.Context) -> Iterator[Command]:
    for name, command in group.commands.items():
        if command.hidden:
            continue
        context = click.Context(command, info_name=name, parent=above, **command.context_settings)
        yield _told(command, context)
        if isinstance(command, click.Group):
            yield from _commands(command, context)


def _told(command: click.Command, context: click.Context) -> Command:
    params = [param for param in command.get_params(context) if not getattr(param, "hidden", False)]
    usage = f"{context.command_path} {' '.join(command.collect_usage_pieces(context))}"
    options = (_option(param, context) for param in params if isinstance(param, click.Option))
    name = context.command_path.removeprefix("planbook ")
    return Command(name, usage, command.get_short_help_str(200), _help(command), tuple(options))


def _help(command: click.Command) -> str:
    """The help of a command as running text; it speaks of arguments in capitals."""
    return "\n\n".join(" ".join(part.split()) for part in (command.help or "").replace("\b", "").split("\n\n"))


def _option(option: click.Option, context: click.Context) -> Option:
    names = (*sorted(option.opts, key=len, reverse=True), *option.secondary_opts)
    flag = option.is_flag or option.count or option.name == "help"
    value = "" if flag else _value(option, context)
    shown = option.show_default if isinstance(option.show_default, str) else option.default
    return Option(
        names=names,
        value=value,
        about=option.help or "",
        default=str(shown) if isinstance(shown, str) and shown and not flag else "",
        needed=option.required,
        repeats=option.multiple,
    )


def _value(option: click.Option, context: click.Context) -> str:
    if isinstance(option.type, click.Choice) and option.metavar is None:
        return ", ".join(map(str, option.type.choices))
    return option.make_metavar(context)
