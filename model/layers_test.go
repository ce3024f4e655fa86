package model_test

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// mayImport says which top-level folders a package of a top-level folder may import beside its own.
var mayImport = map[string][]string{
	"model": nil,
	"vocab": {"model"},
	"index": {"model", "vocab"},
	"link":  {"model", "vocab"},
	"cmd":   {"model", "vocab", "index", "link"},
}

// mayUse says which packages, with those below them, may import a module of others, by the start of their path; test files are free.
var mayUse = map[string][]string{
	"github.com/blevesearch/": {"musterstone/index"},
	"github.com/knakk/rdf":    {"musterstone/vocab/rdf"},
	"github.com/urfave/cli":   {"musterstone/cmd/musterstone"},
	"github.com/gofrs/flock":  {"musterstone/index", "musterstone/link/ledger"},
	"golang.org/x/sys/unix":   {"musterstone/vocab/rdf", "musterstone/cmd/musterstone/internal/job"},
	"golang.org/x/text":       {"musterstone/index/intake", "musterstone/vocab/rdf", "musterstone/vocab/name"},
	"golang.org/x/term":       {"musterstone/cmd/musterstone"},
}

// TestImports keeps the one direction in which packages may import each other.
func TestImports(t *testing.T) {
	cmd := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}}`, "./...")
	cmd.Dir = ".."
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	for line := range strings.Lines(string(out)) {
		words := strings.Fields(line)
		pkg, imports := words[0], words[1:]
		for _, imp := range imports {
			if fault := importFault(pkg, imp); fault != "" {
				t.Error(fault)
			}
		}
	}
}

// importFault says what is wrong with pkg importing imp, or nothing.
func importFault(pkg, imp string) string {
	from, to := folder(pkg), folder(imp)
	switch {
	case to != "":
		if from == to {
			return ""
		}
		if slices.Contains(mayImport[from], to) {
			return ""
		}
		return pkg + " imports " + imp + ": " + from + " may not import " + to
	case strings.Contains(strings.SplitN(imp, "/", 2)[0], "."):
		for module, users := range mayUse {
			if strings.HasPrefix(imp, module) {
				for _, u := range users {
					if pkg == u || strings.HasPrefix(pkg, u+"/") && module != "github.com/blevesearch/" { // the index's own folder alone
						return ""
					}
				}
				return pkg + " imports " + imp + ", which belongs elsewhere"
			}
		}
		return pkg + " imports " + imp + ", a module that no rule names"
	}
	return ""
}

// folder is the top-level folder of a package of this module, or "".
func folder(pkg string) string {
	rest, ok := strings.CutPrefix(pkg, "musterstone/")
	if !ok {
		return ""
	}
	return strings.SplitN(rest, "/", 2)[0]
}

func TestImportFault(t *testing.T) {
	tests := []struct {
		pkg, imp string
		fault    bool
	}{
		{"musterstone/link", "musterstone/index", true},
		{"musterstone/index", "musterstone/link", true},
		{"musterstone/model", "musterstone/vocab", true},
		{"musterstone/vocab/name", "musterstone/model", false},
		{"musterstone/cmd/musterstone", "musterstone/link", false},
		{"musterstone/link", "github.com/blevesearch/bleve/v2", true},
		{"musterstone/index", "github.com/blevesearch/bleve/v2", false},
		{"musterstone/index/intake", "github.com/blevesearch/bleve/v2", true},
		{"musterstone/link", "github.com/nobody/nothing", true},
		{"musterstone/link", "strings", false},
	}
	for _, tt := range tests {
		if got := importFault(tt.pkg, tt.imp); (got != "") != tt.fault {
			t.Errorf("importFault(%s, %s) = %q", tt.pkg, tt.imp, got)
		}
	}
}
