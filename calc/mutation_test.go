package calc

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The mutation check asks of every constant of the package: if its fourth
// significant digit were wrong, would a test notice? It takes some minutes, so it
// runs only when asked:
//
//	go test ./calc -run Mutation -mutate -timeout 2h
//	go test ./calc -run Mutation -mutate -mutate.file sulfite.go -v
var (
	mutate     = flag.Bool("mutate", false, "change every constant in turn and see that a test fails")
	mutateFile = flag.String("mutate.file", "", "only constants of this file")
)

// notPublished are numbers that no formula's result hangs on: how fine a solver
// steps, where a search begins, how wide a range is. Each says why it is exempt;
// everything else has to be pinned.
var notPublished = []struct{ file, pattern, why string }{
	{"*", `^\d(\.0*)?e-?\d+$`, "a tolerance or a bound, a power of ten"},
	{"tabarie.go", `^1\.4485$`, "a bound: 85 Brix, a little below"},
	{"slope.go", `^1\.5$`, "a bound wider than any drink"},
	{"forecast_fit.go", `^(1\.5|0\.25)$`, "where searches begin and how far they step"},
	{"forecast_model.go", `^(2600|0\.25)$`, "the scale of a prior, and a bound of the fit"},
	{"adjust.go", `^4096$`, "how far a search goes"},
	{"liquid.go", `^(0\.95|1\.45)$`, "bounds wider than any drink; tighter checks follow"},
	{"volume.go", `^0\.00062$`, "a first guess that the solver corrects"},
	{"sucrose.go", `^0\.385$`, "a first guess that the solver corrects"},
	{"ferment.go", `^0\.25$`, "a bound on how far invertase gets ahead; a choice, not a figure"},
	{"*", `^0?\.?0*[1-9]0*$|^[1-9]0*(\.0*)?$`, "a round figure of one digit: a bound, a step, a factor of a thousand"},
}

// Ensure that a slip in the fourth digit of any constant is noticed.
func TestMutation_EveryConstantIsPinned(t *testing.T) {
	if !*mutate {
		t.Skip("takes minutes; run with -mutate")
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	tried, survived := 0, 0
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") || *mutateFile != "" && file != *mutateFile {
			continue
		}
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		near := testsBeside(t, file)
		if same := (mutation{}); !survives(t, file, source, same, ".") {
			t.Fatal("the tests fail as it is, so that they would notice anything")
		}
		for _, m := range mutations(t, file, source) {
			tried++
			if survives(t, file, source, m, near) && (near == "." || survives(t, file, source, m, ".")) {
				survived++
				t.Errorf("%s: %s instead of %s goes unnoticed", m.pos, m.wrong, m.right)
			}
		}
	}
	t.Logf("%d constants changed, %d unnoticed", tried, survived)
}

// mutation is one literal to get wrong.
type mutation struct {
	pos          token.Position
	right, wrong string
}

// mutations lists the numeric literals of a file that have to be pinned.
func mutations(t *testing.T, file string, source []byte) []mutation {
	t.Helper()
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, file, source, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	var out []mutation
	ast.Inspect(f, func(n ast.Node) bool {
		lit, ok := n.(*ast.BasicLit)
		if !ok || lit.Kind != token.FLOAT && lit.Kind != token.INT || exempt(file, lit.Value) {
			return true
		}
		if wrong, ok := wrongInFourthDigit(lit.Value, lit.Kind); ok {
			out = append(out, mutation{fset.Position(lit.Pos()), lit.Value, wrong})
		}
		return true
	})
	return out
}

func exempt(file, literal string) bool {
	for _, e := range notPublished {
		if ok, _ := filepath.Match(e.file, file); ok && regexp.MustCompile(e.pattern).MatchString(literal) {
			return true
		}
	}
	return false
}

// wrongInFourthDigit returns the literal with five more in its fourth significant
// digit: 789.23912 becomes 789.73912, 0.484 becomes 0.4845. An integer too small
// to have a fourth digit without a point is left alone.
func wrongInFourthDigit(literal string, kind token.Token) (string, bool) {
	x, err := strconv.ParseFloat(strings.ReplaceAll(literal, "_", ""), 64)
	if err != nil || x == 0 {
		return "", false
	}
	step := 5 * math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-3)
	if kind == token.INT {
		if step < 1 {
			return "", false
		}
		return strconv.FormatInt(int64(x+step), 10), true
	}
	return strconv.FormatFloat(x+step, 'g', 17, 64), true
}

// testsBeside returns a pattern for the tests in the file's own test file, which
// mostly notice and are quicker than all, or for all of them when it has none.
func testsBeside(t *testing.T, file string) string {
	t.Helper()
	beside := strings.TrimSuffix(file, ".go") + "_test.go"
	f, err := parser.ParseFile(token.NewFileSet(), beside, nil, parser.SkipObjectResolution)
	if err != nil {
		return "."
	}
	var names []string
	for _, d := range f.Decls {
		if fn, ok := d.(*ast.FuncDecl); ok && strings.HasPrefix(fn.Name.Name, "Test") {
			names = append(names, fn.Name.Name)
		}
	}
	return "^(" + strings.Join(names, "|") + ")$"
}

// survives reports whether the tests that match run pass with the mutation in place.
// A program that no longer compiles has noticed.
func survives(t *testing.T, file string, source []byte, m mutation, run string) bool {
	t.Helper()
	dir := t.TempDir()
	changed := append(bytes.Clone(source[:m.pos.Offset]), m.wrong...)
	changed = append(changed, source[m.pos.Offset+len(m.right):]...)
	mutant := filepath.Join(dir, file)
	if err := os.WriteFile(mutant, changed, 0o600); err != nil {
		t.Fatal(err)
	}
	original, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	overlay, err := json.Marshal(map[string]map[string]string{"Replace": {original: mutant}})
	if err != nil {
		t.Fatal(err)
	}
	plan := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(plan, overlay, 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("go", "test", "-count=1", "-failfast", "-run", run, "-overlay", plan, ".")
	err = cmd.Run()
	if err != nil && *mutateFile != "" && testing.Verbose() {
		fmt.Printf("%s: %s noticed\n", m.pos, m.wrong)
	}
	return err == nil
}
