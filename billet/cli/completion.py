"""A completion script for bash or zsh, written from the parser, so that it cannot fall behind it."""

import argparse

SCRIPT = """\
# Completion of the command billet for {shell}. Use it with:  {use}
{before}_billet() {{
    local word="${{COMP_WORDS[COMP_CWORD]}}" last="${{COMP_WORDS[COMP_CWORD-1]}}" command="${{COMP_WORDS[1]}}"
    local words="" files=""
    COMPREPLY=()
    if [ "$COMP_CWORD" -eq 1 ]; then
        words="{commands}"
    else
        case "$command $last" in
{choices}
            *) case "$command" in
{options}
            esac ;;
        esac
    fi
    COMPREPLY=( $(compgen -W "$words" -- "$word") )
    if [ -n "$files" ]; then
        COMPREPLY+=( $(compgen -f -- "$word") )
    fi
}}
complete -o filenames -F _billet billet
"""
USE = {"bash": "source <(billet completion bash)", "zsh": "source <(billet completion zsh)"}
BEFORE = {"bash": "", "zsh": "autoload -U +X bashcompinit && bashcompinit\n"}


def completion_script(parser: argparse.ArgumentParser, shell: str) -> str:
    """Commands, options, and the values of options and words with a choice; recipe files by name."""
    commands = _commands(parser)
    choices: list[str] = []
    options: list[str] = []
    for name, command in commands.items():
        offered: list[str] = []
        files = ""
        for action in command._actions:
            offered += action.option_strings
            values = " ".join(map(str, action.choices or ()))
            if values and action.option_strings:
                choices += [f'            "{name} {o}") words="{values}" ;;' for o in action.option_strings]
            elif values:
                offered += values.split()
            if action.dest == "recipe":
                files = " files=yes"
        options.append(f'                {name}) words="{" ".join(offered)}"{files} ;;')
    return SCRIPT.format(
        shell=shell,
        use=USE[shell],
        before=BEFORE[shell],
        commands=" ".join([*commands, *_options(parser)]),
        choices="\n".join(choices),
        options="\n".join(options),
    )


def _commands(parser: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            return dict(action.choices)
    return {}


def _options(parser: argparse.ArgumentParser) -> list[str]:
    return [option for action in parser._actions for option in action.option_strings]
