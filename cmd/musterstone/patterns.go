package main

import (
	"github.com/urfave/cli/v2"

	"musterstone/vocab/marker"
	"musterstone/vocab/marker/drawing"
)

func (a *app) patternsCommand() *cli.Command {
	return &cli.Command{
		Name:        "patterns",
		Usage:       "the field guide: how to tell government-furnished markers apart, in the order a person looks",
		UsageText:   "musterstone patterns\nmusterstone patterns --html > guide.html",
		Description: "Prints the guide made from the program's own tables of marker patterns, with sources. As HTML it has drawings and prints on two pages.\n\nExample: musterstone patterns",
		Flags:       []cli.Flag{&cli.BoolFlag{Name: "html", Usage: "as one page of HTML with drawings"}},
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			text := marker.Guide()
			if c.Bool("html") {
				text = drawing.Guide()
			}
			return a.print("the guide", text)
		},
	}
}
