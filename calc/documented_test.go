package calc

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strings"
	"testing"
)

// Ensure that every exported name of the package says what it is. Fields are left to
// the comment of their type: most are a quantity whose type names the unit.
func TestExportedNames_AreDocumented(t *testing.T) {
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	names := 0
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			for _, name := range undocumented(d, &names) {
				t.Errorf("%s: %s has no comment", e.Name(), name)
			}
		}
	}
	if names < 80 {
		t.Errorf("walked %d exported names, want all of the package", names)
	}
}

// undocumented returns the exported names of a declaration that have no comment of
// their own, of their line or of their group, and counts those it met.
func undocumented(d ast.Decl, met *int) []string {
	var bare []string
	note := func(name *ast.Ident, comments ...*ast.CommentGroup) {
		if !name.IsExported() {
			return
		}
		*met++
		for _, c := range comments {
			if c.Text() != "" {
				return
			}
		}
		bare = append(bare, name.Name)
	}
	switch d := d.(type) {
	case *ast.FuncDecl:
		note(d.Name, d.Doc)
	case *ast.GenDecl:
		for _, spec := range d.Specs {
			switch s := spec.(type) {
			case *ast.TypeSpec:
				note(s.Name, s.Doc, s.Comment, d.Doc)
			case *ast.ValueSpec:
				for _, n := range s.Names {
					note(n, s.Doc, s.Comment, d.Doc)
				}
			}
		}
	}
	return bare
}
