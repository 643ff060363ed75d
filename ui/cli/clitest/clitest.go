// Package clitest runs scripts that read like a terminal session against the
// commands of glassrow. It knows no store: whoever runs the scripts hands in how
// cellars are opened, so that the same scripts prove the commands on a store in
// memory and the program on a real file.
//
// Beside what testscript offers, a script may say
//
//	glassrow ARGS...      a command line; ! if it must fail
//	clock 36h             the time passes; it begins at 18:30 on 20 November 2026, UTC
//	input FILE            what the next command line reads from standard input
//	terminal              from here on, output goes to a terminal
//	near KEY VALUE TOL    the JSON just printed has a number within TOL of VALUE,
//	                      KEY being a path such as vessels.0.batch.sg
//	keys KEY...           the JSON object just printed has these keys and no others
//
// The cellar's default place is under $WORK, the locale is UTF-8 and lines have
// 80 columns, until the script sets LANG or COLUMNS.
package clitest

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/cli"
)

// Cellars is what the scripts run on. The functions are those of cli.Deps.
type Cellars struct {
	Open       func(path string) (ui.Store, error)
	Create     func(path string, s model.Settings) (ui.Store, error)
	Demo       func(path string, now time.Time) (ui.Store, error)
	Sweeteners []model.Sweetener
	Handbook   cli.Handbook

	// Own is the handbook with the own rows of a folder; nil: there is none but the
	// above. Its tables take the place of those above.
	Own func(folder string) ui.Handbook

	// Whole is what is done to whole cellars, with the own rows of a folder.
	Whole func(folder string) cli.Cellars
}

// Start is the time at which every script begins.
var Start = time.Date(2026, 11, 20, 18, 30, 0, 0, time.UTC)

// Run runs every script in the folder, each on fresh cellars.
func Run(t *testing.T, folder string, fresh func() Cellars) {
	testscript.Run(t, testscript.Params{
		Dir: folder,
		Setup: func(env *testscript.Env) error {
			env.Setenv("XDG_DATA_HOME", env.WorkDir+"/data")
			env.Setenv("LANG", "en_GB.UTF-8")
			env.Setenv("TERM", "xterm")
			env.Values[sessionKey{}] = &session{cellars: fresh(), now: Start}
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"glassrow": glassrow, "clock": clock, "terminal": terminal, "near": near, "keys": keys, "input": input,
		},
	})
}

// session is the world of one script.
type session struct {
	cellars  Cellars
	now      time.Time
	terminal bool
	input    string // what the next command line reads
}

type sessionKey struct{}

func sessionOf(ts *testscript.TestScript) *session { return ts.Value(sessionKey{}).(*session) }

func glassrow(ts *testscript.TestScript, neg bool, args []string) {
	s := sessionOf(ts)
	in := s.input
	s.input = ""
	deps := cli.Deps{
		Open: s.cellars.Open, Create: s.cellars.Create, Demo: s.cellars.Demo, Sweeteners: s.cellars.Sweeteners,
		Handbook: s.cellars.Handbook, WriteFile: writeFile(ts),
		Dashboard: func(r cli.DashboardRequest) error {
			_, err := fmt.Fprintf(ts.Stdout(), "dashboard on %s, cellar there: %t, demo: %t\n", r.Path, r.Store != nil, r.Demo)
			return err
		},
		Now: func() time.Time { return s.now }, Getenv: ts.Getenv, Terminal: s.terminal,
		In: strings.NewReader(in), Out: ts.Stdout(), Err: ts.Stderr(),
	}
	if folder, ok := cli.DataDir(ts.Getenv); ok && s.cellars.Whole != nil {
		deps.Cellars = s.cellars.Whole(folder)
	}
	code := 1
	if err := s.readOwn(ts, &deps); err != nil {
		fmt.Fprintln(ts.Stderr(), "glassrow: handbook:", err)
	} else {
		code = cli.Run(deps, args)
	}
	if (code != 0) != neg {
		ts.Fatalf("glassrow %s: exit code %d", strings.Join(args, " "), code)
	}
}

// readOwn reads the own rows of the handbook at the start of a command line, as main
// does.
func (s *session) readOwn(ts *testscript.TestScript, deps *cli.Deps) error {
	if s.cellars.Own == nil {
		return nil
	}
	folder, _ := cli.DataDir(ts.Getenv)
	deps.Own = s.cellars.Own(folder)
	l, err := deps.Own.Larder()
	deps.Sweeteners, deps.Handbook.Fruits = l.Sweeteners, l.Fruits
	return err
}

// writeFile writes as main's does, in the folder of the script.
func writeFile(ts *testscript.TestScript) func(string, []byte, bool) error {
	return func(path string, content []byte, over bool) error {
		flags := os.O_WRONLY | os.O_CREATE | os.O_TRUNC
		if !over {
			flags |= os.O_EXCL
		}
		f, err := os.OpenFile(ts.MkAbs(path), flags, 0o644)
		if err != nil {
			return err
		}
		defer f.Close()
		_, err = f.Write(content)
		return err
	}
}

func clock(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) != 1 {
		ts.Fatalf("clock needs a duration such as 36h")
	}
	d, err := time.ParseDuration(args[0])
	ts.Check(err)
	s := sessionOf(ts)
	s.now = s.now.Add(d)
}

func input(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) != 1 {
		ts.Fatalf("input needs a file")
	}
	sessionOf(ts).input = ts.ReadFile(args[0])
}

func terminal(ts *testscript.TestScript, _ bool, _ []string) { sessionOf(ts).terminal = true }

func near(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 3 || neg {
		ts.Fatalf("near needs a key, a value and a tolerance")
	}
	want, err := strconv.ParseFloat(args[1], 64)
	ts.Check(err)
	tolerance, err := strconv.ParseFloat(args[2], 64)
	ts.Check(err)
	var object any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &object))
	got, ok := valueAt(object, strings.Split(args[0], ".")).(float64)
	if !ok || !(math.Abs(got-want) <= tolerance) {
		ts.Fatalf("%s is %v, want %v ± %v", args[0], valueAt(object, strings.Split(args[0], ".")), want, tolerance)
	}
}

func keys(ts *testscript.TestScript, neg bool, args []string) {
	var object map[string]any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &object))
	slices.Sort(args)
	if got := slices.Sorted(maps.Keys(object)); neg || !slices.Equal(got, args) {
		ts.Fatalf("the keys are %v, want %v", got, args)
	}
}

// valueAt follows a path into decoded JSON; nil where it does not lead anywhere.
func valueAt(v any, path []string) any {
	for _, step := range path {
		switch in := v.(type) {
		case map[string]any:
			v = in[step]
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i < 0 || i >= len(in) {
				return nil
			}
			v = in[i]
		default:
			return nil
		}
	}
	return v
}
