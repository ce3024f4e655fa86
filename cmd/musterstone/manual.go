package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/manual"
)

func (a *app) completionCommand() *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print what lets a shell complete commands and options: bash, zsh or fish",
		UsageText: "musterstone completion bash|zsh|fish",
		ArgsUsage: strings.Join(manual.Shells, "|"),
		Description: "Prints a script for your shell. To have it in every new shell:\n\n" +
			"  bash  musterstone completion bash > ~/.local/share/bash-completion/completions/musterstone\n" +
			"  zsh   musterstone completion zsh > _musterstone      (in a folder that $fpath names)\n" +
			"  fish  musterstone completion fish > ~/.config/fish/completions/musterstone.fish\n\nExample: musterstone completion bash",
		Action: func(c *cli.Context) error {
			script, ok := manual.Completion(c.App, c.Args().First())
			if !ok || c.NArg() != 1 {
				return &usageError{text: fmt.Sprintf("completion wants the name of a shell: %s", strings.Join(manual.Shells, ", ")), hint: "for example: musterstone completion bash"}
			}
			return a.print("the completion", script)
		},
	}
}

func (a *app) manCommand() *cli.Command {
	return &cli.Command{
		Name:        "man",
		Usage:       "print the man page",
		UsageText:   "musterstone man\nmusterstone man > ~/.local/share/man/man1/musterstone.1",
		Description: "Prints the manual of all commands in the form that the program man reads.\n\nExample: musterstone man",
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			return a.print("the man page", manual.Man(c.App))
		},
	}
}
