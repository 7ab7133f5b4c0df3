"""The command line: arguments in, terminal out. What a command does stands in `commands`.

Exit codes: 0 all ready, 1 something needs fixing, 2 wrong use or configuration, 3 our own failure.
Commands are imported when they are called, so that `--help` stays quick.
"""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

import click

from hotfolder import __version__
from hotfolder.errors import HotfolderError
from hotfolder.wording.folding import say
from hotfolder.wording.nearest import choose

FOLDER = click.Path(file_okay=False, path_type=Path)
STUDIO = click.Path(exists=True, file_okay=False, path_type=Path)
FILE = click.Path(exists=True, dir_okay=False, path_type=Path, readable=False)

OF_STUDIO = click.option(
    "--studio", type=STUDIO, metavar="STUDIO", help="Find this studio's own rule sets too."
)


class Commands(click.Group):
    """A group that suggests the nearest name for one it does not know."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command meant by the first argument; UsageError with a suggestion if there is none."""
        name = args[0] if args else ""
        if self.get_command(ctx, name) is None and not name.startswith("-"):
            ctx.fail(f"There is no command '{name}'. {choose(name, self.list_commands(ctx))}")
        return super().resolve_command(ctx, args)


def example(line: str) -> str:
    r"""The closing line of a command's help: one real example. \b keeps click from re-flowing it."""
    return f"\b\nExample:\n  {line}"


@click.group(
    cls=Commands, context_settings={"help_option_names": ["-h", "--help"]}, epilog=example("hotfolder demo")
)
@click.version_option(__version__, prog_name="hotfolder")
def cli() -> None:
    """Watched folders for print artwork.

    Measures every file dropped into a printer's inbox, judges it against that printer's rule
    set, delivers it with a report, and keeps an audit log.
    """


@cli.command(
    short_help="Set up a studio.", epilog=example("hotfolder init studio --printer quay=flyer-offset-coated")
)
@click.argument("folder", type=FOLDER)
@click.option(
    "--printer",
    "printers",
    multiple=True,
    metavar="NAME=RULES",
    help="A printer and its rule set; may be given several times.",
)
def init(folder: Path, printers: Sequence[str]) -> None:
    """Set up a studio in FOLDER; run again, it adds what is missing and changes nothing."""
    from hotfolder.commands.init import init_studio  # noqa: PLC0415 - imported when called

    pairs = []
    for text in printers:
        name, equals, rules = text.partition("=")
        if not (equals and name and rules):
            raise click.BadParameter(f"'{text}' is not NAME=RULES", param_hint="--printer")
        pairs.append((name, rules))
    say(init_studio(folder, pairs).lines())


@cli.command(short_help="Watch a studio's inboxes.", epilog=example("hotfolder run studio"))
@click.argument("studio", type=STUDIO)
@click.option("--once", is_flag=True, help="Handle the files that are there, list what is left, and end.")
@click.option("--verbose", is_flag=True, help="Log more details.")
def run(studio: Path, once: bool, verbose: bool) -> None:  # noqa: FBT001 - click passes by name
    """Watch the inboxes of STUDIO until told to stop."""
    from hotfolder.commands.run import run_studio  # noqa: PLC0415 - imported when called

    sys.exit(run_studio(studio, once=once, verbose=verbose))


@cli.command(
    short_help="Measure and judge files.",
    epilog=example("hotfolder check flyer.pdf --rules flyer-offset-coated"),
)
@click.argument("files", nargs=-1, required=True, type=FILE)
@click.option("--rules", metavar="NAME-or-PATH", help="The rule set to judge by.")
@click.option(
    "--pdfx",
    metavar="LEVEL",
    help="Judge by what this level of PDF/X asks, such as PDF/X-4; with --rules by both.",
)
@OF_STUDIO
@click.option(
    "--report",
    "reports",
    type=FOLDER,
    metavar="FOLDER",
    help="Write reports with the marked pages into FOLDER; nothing there is overwritten.",
)
@click.option(
    "--json",
    "as_json",
    is_flag=True,
    help="Print JSON: one file gives one object, several files one object a line.",
)
def check(
    files: Sequence[Path],
    rules: str | None,
    pdfx: str | None,
    studio: Path | None,
    reports: Path | None,
    as_json: bool,  # noqa: FBT001 - click passes by name
) -> None:
    """Measure and judge FILES; move nothing."""
    from hotfolder.commands.check import check_files  # noqa: PLC0415 - imported when called

    sys.exit(check_files(files, rules, pdfx, studio=studio, reports=reports, as_json=as_json))


@cli.command(
    short_help="Print the facts of a file.",
    epilog=example("hotfolder measure poster.pdf --press coated --json"),
)
@click.argument("file", type=FILE)
@click.option(
    "--press",
    metavar="NAME-or-PROFILE-FILE",
    help="The printing condition to draw its plates for (`hotfolder presses` lists them).",
)
@click.option("--json", "as_json", is_flag=True, help="Print the facts as JSON.")
def measure(file: Path, press: str | None, as_json: bool) -> None:  # noqa: FBT001 - click passes by name
    """Print the facts of FILE, without any judgement."""
    from hotfolder.commands.measure import measure_file  # noqa: PLC0415 - imported when called

    sys.exit(measure_file(file, press, as_json=as_json))


@cli.command(short_help="List printing conditions.", epilog=example("hotfolder presses"))
def presses() -> None:
    """List the printing conditions that a rule set or `--press` may name."""
    from hotfolder.commands.presses import list_presses  # noqa: PLC0415 - imported when called

    say(list_presses().splitlines())


@cli.group(
    cls=Commands,
    invoke_without_command=True,
    short_help="Show rule sets, explain rules.",
    epilog=example("hotfolder rules explain bleed"),
)
@OF_STUDIO
@click.pass_context
def rules(context: click.Context, studio: Path | None) -> None:
    """List rule sets and rules, show a rule set, explain a rule."""
    if context.invoked_subcommand is None:
        from hotfolder.commands.rules import list_rules  # noqa: PLC0415 - imported when called

        say(list_rules(studio).splitlines())
    context.obj = studio


@rules.command(
    "show", short_help="Show what a rule set asks for.", epilog=example("hotfolder rules show business-card")
)
@click.argument("name")
@OF_STUDIO
@click.pass_obj
def rules_show(of_group: Path | None, name: str, studio: Path | None) -> None:
    """Show what the rule set NAME (or a path) asks for."""
    from hotfolder.commands.rules import show_rule_set  # noqa: PLC0415 - imported when called

    say(show_rule_set(name, studio or of_group).splitlines())


@rules.command(
    "explain", short_help="Explain a rule.", epilog=example("hotfolder rules explain image-resolution")
)
@click.argument("rule")
@OF_STUDIO
@click.pass_obj
def rules_explain(of_group: Path | None, rule: str, studio: Path | None) -> None:
    """Explain RULE: why a printer cares, what goes wrong on paper, what is not flagged.

    `pdfx` explains every requirement of every level of PDF/X that is judged.
    """
    from hotfolder.commands.rules import explain_rule  # noqa: PLC0415 - imported when called

    say(explain_rule(rule, studio or of_group).splitlines(), prose=True)


@cli.command(short_help="Show it all on invented artwork.", epilog=example("hotfolder demo /tmp/studio"))
@click.argument("folder", type=FOLDER, required=False)
def demo(folder: Path | None) -> None:
    """Set up an invented studio, drop artwork into it and show what happens."""
    from hotfolder.demo.demonstration import run_demo  # noqa: PLC0415 - imported when called

    sys.exit(run_demo(folder))


@cli.command(short_help="Show what waits, and why.", epilog=example("hotfolder status studio"))
@click.argument("studio", type=STUDIO)
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def status(studio: Path, as_json: bool) -> None:  # noqa: FBT001 - click passes by name
    """Show what waits, what is in work and what is held up in STUDIO, and why."""
    from hotfolder.commands.status import show_status  # noqa: PLC0415 - imported when called

    for line in show_status(studio, as_json=as_json):
        click.echo(line)


@cli.command(
    short_help="Show a daemon's notifications.", epilog=example("hotfolder tell studio --printer quay")
)
@click.argument("studio", type=STUDIO)
@click.option("--printer", metavar="NAME", help="Only notify about this printer's jobs.")
def tell(studio: Path, printer: str | None) -> None:
    """Show notifications here about a STUDIO whose daemon runs elsewhere."""
    from hotfolder.commands.tell import tell_studio  # noqa: PLC0415 - imported when called

    sys.exit(tell_studio(studio, printer))


@cli.command(short_help="Check the audit log.", epilog=example("hotfolder audit studio"))
@click.argument("studio", type=STUDIO)
@click.argument("job", required=False)
def audit(studio: Path, job: str | None) -> None:
    """Check the whole audit log; with JOB (id or file name), tell what happened to it."""
    from hotfolder.commands.audit import audit_studio  # noqa: PLC0415 - imported when called

    result = audit_studio(studio, job)
    say(result.lines)
    sys.exit(result.exit_code)


@cli.command(
    short_help="Send a file on despite its findings.",
    epilog=example("hotfolder release studio flyer.pdf --by 'R. Vale' --reason 'agreed by telephone'"),
)
@click.argument("studio", type=STUDIO)
@click.argument("job")
@click.option("--by", required=True, metavar="NAME", help="Who releases it.")
@click.option("--reason", required=True, metavar="TEXT", help="Why it may go on anyway.")
def release(studio: Path, job: str, by: str, reason: str) -> None:
    """Send JOB (id or file name) on despite its findings, which stay in the report."""
    from hotfolder.commands.release import release_job  # noqa: PLC0415 - imported when called

    say(release_job(studio, job, by=by, reason=reason))


@cli.command(
    short_help="Print a systemd unit.",
    epilog=example("hotfolder unit studio > ~/.config/systemd/user/hotfolder.service"),
)
@click.argument("studio", type=STUDIO)
@click.option("--system", is_flag=True, help="For a server: a system unit instead of a user's.")
def unit(studio: Path, system: bool) -> None:  # noqa: FBT001 - click passes by name
    """Print a systemd unit with the right paths for STUDIO."""
    from hotfolder.commands.unit import print_unit  # noqa: PLC0415 - imported when called

    click.echo(print_unit(studio, system=system), nl=False)


def main(arguments: Sequence[str] | None = None) -> NoReturn:
    """Run the command line and leave with its exit code."""
    options: dict[str, Any] = {"prog_name": "hotfolder", "standalone_mode": False}
    try:
        status = cli.main(list(arguments) if arguments is not None else None, **options)
    except click.exceptions.Abort:
        sys.exit(130)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except HotfolderError as error:
        click.echo(f"hotfolder: {error}", err=True)
        sys.exit(error.exit_code)
    sys.exit(status if isinstance(status, int) else 0)
