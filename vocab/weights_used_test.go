package vocab_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"musterstone/vocab"
)

// TestWeightsAreUsed holds the tables of weights that are asked by words to the code that asks: each row's words stand in it, and each weight that it asks for outright has a row. Tables that fill a
// struct are held to it by Weights itself.
func TestWeightsAreUsed(t *testing.T) {
	for _, c := range []struct {
		table   string
		columns []string
		folders []string
		asks    []string            // the functions that take the words of a row as their first arguments
		made    map[string][]string // how words come about that do not stand in the code as they are: of which that do
	}{
		{"weights", []string{"field", "level"}, []string{"link/weigh", "link"}, []string{"start", "lineOf"}, nil},
		{"weight-priors", []string{"field", "level"}, []string{"link/weigh"}, []string{"chance"}, nil},
		{"resurvey-weights", []string{"field", "level"}, []string{"link/resurvey"}, []string{"weightOf", "add"}, nil},
		{"unmarked-weights", []string{"key"}, []string{"link/unmarked"}, []string{"weight"}, map[string][]string{
			"sign-weak": {"sign-"}, "sign-medium": {"sign-"}, "sign-strong-beside": {"sign-", "strong", "beside"}, "sign-strong-carved": {"sign-", "strong"},
		}},
	} {
		words, asked := sources(t, c.folders, c.asks, len(c.columns))
		var rows [][]string
		for _, r := range vocab.Rows(c.table) {
			var row []string
			for _, column := range c.columns {
				w := r.Get(column)
				row = append(row, w)
				parts, ok := c.made[w]
				if !ok {
					parts = []string{w}
				}
				for _, w := range parts {
					if !words[w] {
						t.Errorf("%s: nothing in %s asks for %q", r.Where(), strings.Join(c.folders, ", "), w)
					}
				}
			}
			rows = append(rows, row)
		}
		for _, a := range asked {
			if !slices.ContainsFunc(rows, func(row []string) bool { return slices.Equal(row, a) }) {
				t.Errorf("table %s has no row %q, which is asked for", c.table, a)
			}
		}
		if len(asked) == 0 {
			t.Errorf("nothing asks table %s for a weight: the test looks for the wrong functions", c.table)
		}
	}
}

// sources gives the strings that stand in the code of some folders, tests aside, and the first n arguments of the calls of some functions and methods where they are strings.
func sources(t *testing.T, folders, functions []string, n int) (words map[string]bool, calls [][]string) {
	t.Helper()
	words = map[string]bool{}
	for _, folder := range folders {
		files, err := filepath.Glob(filepath.Join("..", filepath.FromSlash(folder), "*.go"))
		if err != nil || files == nil {
			t.Fatalf("%s: no code, %v", folder, err)
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(x ast.Node) bool {
				switch x := x.(type) {
				case *ast.BasicLit:
					if s, ok := literal(x); ok {
						words[s] = true
					}
				case *ast.CallExpr:
					var call []string
					if slices.Contains(functions, called(x.Fun)) && len(x.Args) >= n {
						for _, a := range x.Args[:n] {
							if s, ok := literal(a); ok {
								call = append(call, s)
							}
						}
					}
					if len(call) == n {
						calls = append(calls, call)
					}
				}
				return true
			})
		}
	}
	return words, calls
}

// called is the name of the function or method that is called.
func called(f ast.Expr) string {
	switch f := f.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		return f.Sel.Name
	}
	return ""
}

func literal(x ast.Expr) (string, bool) {
	b, ok := x.(*ast.BasicLit)
	if !ok || b.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(b.Value)
	return s, err == nil
}
