package main

import (
	"fmt"
	"net"
	"os"
	"os/exec"
	"runtime"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/desk"
	"musterstone/cmd/musterstone/internal/job"
	"musterstone/link/ledger"
)

func (a *app) reviewCommand() *cli.Command {
	return &cli.Command{
		Name:      "review",
		Usage:     "open the review desk: decide stone by stone in your browser",
		UsageText: "musterstone review [--survey FOLDER] [--listen 127.0.0.1:0] [--no-open]",
		Description: "Serves pages on this machine alone, from the survey folder, and loads nothing from anywhere else. The address is printed on standard\n" +
			"error, and opened in your browser where you sit at a terminal. Every decision is in decisions.jsonl before the page goes on; stop\n" +
			"with Ctrl-C whenever you like. Several people can work on one survey at once.\n\n" +
			"With --listen and an address that other machines can reach, such as a phone at the grave, each browser needs a key that is printed\n" +
			"and good for once. What goes over that network is not encrypted: use one that you trust.\n\nExample: musterstone review --survey alder",
		Flags: []cli.Flag{surveyFlag(),
			&cli.StringFlag{Name: "listen", Value: "127.0.0.1:0", Usage: "the `ADDRESS` and port to serve on; port 0 is any that is free"},
			&cli.BoolFlag{Name: "no-open", Usage: "print the address and open no browser"}},
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			return a.review(c)
		},
	}
}

func (a *app) review(c *cli.Context) error {
	listen := c.String("listen")
	if _, _, err := net.SplitHostPort(listen); err != nil {
		return &usageError{text: fmt.Sprintf("--listen %q is no address with a port", listen), hint: "for example: --listen 127.0.0.1:8321"}
	}
	j, err := a.openToDecide(c)
	if err != nil {
		return err
	}
	defer j.Close()
	a.noteStones(j)
	if text := job.NoDecisions(j.Survey.Dir); text != "" {
		a.note("you can look at this survey, but " + text)
	}
	l, err := (&net.ListenConfig{}).Listen(c.Context, "tcp", listen)
	if err != nil {
		return &usageError{text: fmt.Sprintf("cannot serve on %s: %v", listen, err), hint: "is another desk open there? leave --listen out for a free port of this machine"}
	}
	defer l.Close()
	address := "http://" + l.Addr().String()
	keyed := true
	if t, ok := l.Addr().(*net.TCPAddr); ok {
		keyed = !t.IP.IsLoopback()
	}
	d, err := desk.New(c.Context, j, desk.Options{
		Program: version, Clock: a.now, Hosts: desk.Hosts(l.Addr()), Keyed: keyed, Note: a.note,
		NewKey: func(path string) { a.note("for the next browser, once: " + address + path) },
	})
	if err != nil {
		return err
	}
	defer d.Close()
	if keyed {
		a.note("other machines can reach this desk, and what goes there and back is not encrypted; stop it when you have done")
	}
	for _, complaint := range j.Complaints() {
		if complaint.File == ledger.FileName {
			a.note(complaint.Error())
		}
	}
	a.note("the review desk is open at " + address + "/ (Ctrl-C closes it)")
	if !keyed && !c.Bool("no-open") && a.terminal && isTerminal(os.Stdin) {
		if err := openBrowser(address + "/"); err != nil {
			a.note("no browser could be opened; open the address yourself")
		}
	}
	if err := d.Serve(c.Context, l); err != nil {
		return err
	}
	a.note("the review desk is closed; every decision is in " + j.LedgerPath())
	return nil
}

// openBrowser opens an address in the person's browser and does not wait for it.
func openBrowser(address string) error {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	path, err := exec.LookPath(name)
	if err != nil {
		return fmt.Errorf("open %s: %w", address, err)
	}
	cmd := exec.Command(path, args...)
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("open %s: %w", address, err)
	}
	go cmd.Wait()
	return nil
}
