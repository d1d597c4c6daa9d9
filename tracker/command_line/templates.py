"""`tracker templates`: what a project can start from."""

from __future__ import annotations

import click

from tracker.command_line.options import example, json_option


@click.command(
    "templates",
    epilog=example("tracker templates", "tracker new gym.db --template warehouse-to-gym"),
)
@json_option
def command(as_json: bool) -> None:
    """List the templates and the jurisdictions that come with the program."""
    from tracker.project_folder import places

    conversions = places.template_names()
    jurisdictions = _names("jurisdictions")
    if as_json:
        import json

        click.echo(json.dumps({"templates": conversions, "jurisdictions": jurisdictions}))
        return
    click.echo("Templates (tracker new FILE --template NAME):")
    _list(conversions)
    click.echo("Jurisdictions (hearing rules to start from; local figures replace them):")
    _list(jurisdictions)


def _names(kind: str) -> tuple[str, ...]:
    """The names under one folder of the templates."""
    from tracker.project_folder import places

    found = (places.folder("templates") / kind).glob("*")
    return tuple(
        sorted(
            {
                path.stem
                for path in found
                if path.is_dir() or path.suffix in (".csv", ".json", ".toml")
            }
        )
    )


def _list(names: tuple[str, ...]) -> None:
    """Names, one a line."""
    for name in names:
        click.echo(f"  {name}")
    if not names:
        click.echo("  none")
