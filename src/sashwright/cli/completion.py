"""The command ``completion``: lets the shell finish words with the tab key."""

from __future__ import annotations

import click

_FIRST = {
    "bash": '# Put this line into ~/.bashrc:  eval "$(sashwright completion bash)"',
    "zsh": '# Put this line into ~/.zshrc:  eval "$(sashwright completion zsh)"',
    "fish": "# Save this as ~/.config/fish/completions/sashwright.fish",
}


@click.command()
@click.argument("shell", type=click.Choice(list(_FIRST)))
@click.pass_context
def completion(ctx: click.Context, shell: str) -> None:
    """Print the script that lets a shell finish command names with the tab key.

    \b
    Example:
      eval "$(sashwright completion bash)"
    """
    from click.shell_completion import get_completion_class

    complete = get_completion_class(shell)
    root = ctx.find_root()
    if complete is None:
        raise click.ClickException(f"There is no script for {shell}.")
    script = complete(root.command, {}, "sashwright", "_SASHWRIGHT_COMPLETE")
    click.echo(_FIRST[shell])
    click.echo(script.source_template % script.source_vars())
