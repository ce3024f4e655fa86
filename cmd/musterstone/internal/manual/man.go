package manual

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/say"
)

// Man writes the man page, section 1, in the macros of man(7).
func Man(app *cli.App) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line(`.\" Made by the program itself: %s man`, app.Name)
	line(".TH %s 1 \"\" \"%s %s\" \"User commands\"", roff(strings.ToUpper(app.Name)), roff(app.Name), roff(app.Version))
	line(".SH NAME\n%s \\- %s", roff(app.Name), roff(app.Usage))
	line(".SH SYNOPSIS\n.nf\n%s\n.fi", roff(app.UsageText))
	line(".SH DESCRIPTION")
	line("%s", strings.Join(strings.Split(roffLines(app.Description), "\n"), "\n.br\n"))
	line(".SH OPTIONS")
	manOptions(&b, global(app))
	line(".SH COMMANDS")
	for _, c := range commands(app) {
		line(".SS %s", roff(c.Name))
		line("%s", roffLine(say.Capital(c.Usage)+"."))
		line(".PP\n.nf")
		for _, u := range strings.Split(c.UsageText, "\n") {
			line("%s", roffLine(strings.TrimSpace(u)))
		}
		line(".fi")
		for _, p := range paragraphs(c) {
			line(".PP")
			if strings.Contains(p, "\n") {
				p = ".nf\n" + roffLines(p) + "\n.fi"
				line("%s", p)
				continue
			}
			line("%s", roffLine(p))
		}
		manOptions(&b, options(c.Flags))
		if example := Example(c); example != "" {
			line(".PP\nExample:\n.PP\n.RS 4\n.nf\n%s\n.fi\n.RE", roffLines(example))
		}
	}
	line(".SH EXIT STATUS")
	for _, s := range []struct {
		status int
		means  string
	}{{0, "done"}, {1, "the work failed"}, {2, "the call or the input is wrong"}, {3, "done, but problems were found and told"}} {
		line(".TP\n.B %d\n%s", s.status, s.means)
	}
	return b.String()
}

func manOptions(b *strings.Builder, all []option) {
	for _, o := range all {
		var names []string
		for _, n := range o.names {
			n = `\fB` + roff(n) + `\fR`
			if o.value != "" {
				n += ` \fI` + roff(o.value) + `\fR`
			}
			names = append(names, n)
		}
		fmt.Fprintf(b, ".TP\n%s\n%s\n", strings.Join(names, ", "), roffLine(o.usage))
	}
}

// roff writes a text so that nothing in it is taken for a request or an escape.
func roff(s string) string {
	return strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", "\\(ga", "^", `\(ha`, "~", `\(ti`, "…", "...").Replace(s)
}

// roffLine is roff for a text that begins a line, where a point would be taken for a request.
func roffLine(s string) string {
	s = roff(s)
	if strings.HasPrefix(s, ".") {
		s = `\&` + s
	}
	return s
}

func roffLines(s string) string {
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = roffLine(lines[i])
	}
	return strings.Join(lines, "\n")
}
