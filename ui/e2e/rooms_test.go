// Package e2e holds tests that see the whole program: its rooms, its screens on a
// real store, and the built binary in a real terminal. Like main, it may enter
// every room.
package e2e

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

const module = "cellar.local/glassrow/"

// mayEnter is who may import whom; see DEVELOPERS.md.
var mayEnter = map[string][]string{
	"calc":         {},
	"model":        {"calc"},
	"data":         {"model", "calc"},
	"ui":           {"model", "calc", "ui/words", "ui/plot", "ui/darkfirst", "ui/sheet", "ui/cells"},
	"ui/cli":       {"model", "calc", "ui", "ui/words", "ui/sheet", "ui/cells", "ui/ics"},
	"ui/ics":       {},
	"ui/sheet":     {"model", "calc", "ui/words", "ui/plot"},
	"ui/words":     {"model", "calc", "ui/cells"},
	"ui/cells":     {},
	"ui/plot":      {},
	"ui/darkfirst": {},
	"ui/uitest":    {},
}

// Ensure that no arrow between the rooms runs the wrong way.
func TestRooms_ImportOnlyWhatTheyMay(t *testing.T) {
	visit(t, func(room, path string, f *ast.File) {
		allowed, ok := mayEnter[room]
		if !ok {
			return // main and this package see everything
		}
		for _, imp := range f.Imports {
			target, ours := strings.CutPrefix(strings.Trim(imp.Path.Value, `"`), module)
			if !ours || contains(allowed, target) || strings.HasSuffix(path, "_test.go") && (target == room || strings.HasPrefix(target, room+"/") || target == "ui/uitest") {
				continue
			}
			t.Errorf("%s imports %s; %s may import %v", path, target, room, allowed)
		}
	})
}

// Ensure that the science and the model do no I/O, that the screen never sees the
// database, and that the time comes in from outside.
func TestRooms_ForbiddenThings(t *testing.T) {
	forbidden := map[string][]string{
		"calc":     {"os", "io", "net", "math/rand"}, // time for durations only, math/rand/v2 with a fixed seed: see below
		"model":    {"os", "io", "net", "math/rand", "math/rand/v2"},
		"ui/cli":   {"go.etcd.io/bbolt"},
		"ui/words": {"os", "io", "net"},
		"ui/sheet": {"os", "io", "net"},
	}
	visit(t, func(room, path string, f *ast.File) {
		if strings.HasSuffix(path, "_test.go") {
			return
		}
		for _, imp := range f.Imports {
			if name := strings.Trim(imp.Path.Value, `"`); contains(forbidden[room], name) {
				t.Errorf("%s imports %s, which %s has no use for", path, name, room)
			}
		}
		if room == "" || room == "ui/e2e" {
			return
		}
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			pkg, ok := call.X.(*ast.Ident)
			if !ok {
				return true
			}
			switch name := pkg.Name + "." + call.Sel.Name; {
			case pkg.Name == "rand" && room == "calc" && !contains([]string{"New", "NewPCG", "Rand"}, call.Sel.Name):
				t.Errorf("%s draws from rand.%s, which differs each time; seed a generator of its own", path, call.Sel.Name)
			case name == "time.Now" && room != "data":
				t.Errorf("%s calls time.Now; the clock is handed in by main", path)
			case name == "lipgloss.Color" && path != filepath.Join("ui", "styles.go"):
				t.Errorf("%s chooses a colour; colours live in ui/styles.go", path)
			}
			return true
		})
	})
}

// visit parses every Go file of the module and tells which room it is in.
func visit(t *testing.T, see func(room, path string, f *ast.File)) {
	t.Helper()
	top := filepath.Join("..", "..")
	err := filepath.WalkDir(top, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && path != top {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		rel, err := filepath.Rel(top, path)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		see(strings.TrimPrefix(filepath.ToSlash(filepath.Dir(rel)), "."), rel, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func contains(all []string, one string) bool {
	for _, s := range all {
		if s == one {
			return true
		}
	}
	return false
}
