// Glassrow is a terminal dashboard for a cellar of home-made mead, wine, cider and
// beer. See README.md.
//
// This file wires the rooms together and decides nothing.
package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/charmbracelet/x/term"

	"cellar.local/glassrow/data"
	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/cli"
)

var (
	_ ui.Store    = (*data.Store)(nil)
	_ ui.Handbook = data.Handbook{}
	_ cli.Cellars = data.Cellars{}
)

func main() { os.Exit(run(os.Args[1:])) }

func run(args []string) int {
	own, _ := cli.DataDir(os.Getenv) // without one there are no own rows either
	larder, err := data.HandbookIn(own).Larder()
	if err != nil {
		fmt.Fprintln(os.Stderr, "glassrow: handbook:", err)
		return 1
	}
	handbook, err := readHandbook(larder)
	if err != nil {
		fmt.Fprintln(os.Stderr, "glassrow:", err)
		return 1
	}
	return cli.Run(cli.Deps{
		Open:       openCellar,
		Create:     createCellar,
		Demo:       makeDemo,
		WriteFile:  data.WriteFile,
		Cellars:    data.CellarsWith(own),
		Sweeteners: larder.Sweeteners,
		Handbook:   handbook,
		Own:        data.HandbookIn(own),
		Dashboard: func(r cli.DashboardRequest) error {
			own, larder := data.HandbookIn(own), larder
			if r.OwnRows != "" {
				own = data.HandbookIn(r.OwnRows)
				if larder, err = own.Larder(); err != nil {
					return err
				}
			}
			return ui.Run(ui.Options{
				Store:      r.Store,
				Path:       r.Path,
				Create:     func(s model.Settings) (ui.Store, error) { return createCellar(r.Path, s) },
				Sweeteners: larder.Sweeteners,
				Fruits:     larder.Fruits,
				Acids:      handbook.Acids,
				Carbonates: handbook.Carbonates,
				Nutrients:  handbook.Nitrogen,
				Handbook:   own,
				Containers: handbook.Containers,
				Sorbate:    handbook.Sorbate,
				SaveBeside: saveBeside(r),

				SulfiteLimits: handbook.Limits,

				Now:  time.Now,
				Demo: r.Demo,
			}, ui.Terminal{In: os.Stdin, Out: os.Stdout, Getenv: os.Getenv, Env: os.Environ()})
		},
		Now:      time.Now,
		Getenv:   os.Getenv,
		Terminal: isTerminal(),
		In:       os.Stdin,
		Out:      os.Stdout,
		Err:      os.Stderr,
	}, args)
}

// saveBeside writes files into the folder of a cellar; for the demo, whose folder goes
// when one leaves, into the one where the program was started.
func saveBeside(r cli.DashboardRequest) func(string, []byte, bool) (string, error) {
	return func(name string, content []byte, over bool) (string, error) {
		dir := filepath.Dir(r.Path)
		if r.Demo {
			var err error
			if dir, err = os.Getwd(); err != nil {
				return "", err
			}
		}
		path := filepath.Join(dir, name)
		return path, data.WriteFile(path, content, over)
	}
}

// readHandbook reads the other tables that the commands look things up in.
func readHandbook(larder model.Larder) (cli.Handbook, error) {
	h := cli.Handbook{Fruits: larder.Fruits}
	var errs [7]error
	h.Yeasts, errs[0] = data.Yeasts()
	h.Containers, errs[1] = data.Containers()
	h.Acids, errs[2] = data.Acids()
	h.Carbonates, errs[3] = data.Carbonates()
	h.Nitrogen, errs[4] = data.NitrogenSources()
	h.Sorbate, errs[5] = data.Sorbate()
	h.Limits, errs[6] = data.SulfiteLimits()
	return h, errors.Join(errs[:]...)
}

func openCellar(path string) (ui.Store, error) {
	s, err := data.Open(path)
	if errors.Is(err, data.ErrNotFound) {
		return nil, fmt.Errorf("%w: %w", cli.ErrNoCellar, err)
	}
	return stored(s, err)
}

func createCellar(path string, set model.Settings) (ui.Store, error) {
	return stored(data.Create(path, set))
}

func makeDemo(path string, now time.Time) (ui.Store, error) {
	return stored(data.DemoAt(path, now))
}

// stored keeps a failed store from becoming a screen's store that is not nil.
func stored(s *data.Store, err error) (ui.Store, error) {
	if err != nil {
		return nil, err
	}
	return s, nil
}

// isTerminal reports whether both ends are a terminal, of whatever kind.
func isTerminal() bool {
	return term.IsTerminal(os.Stdin.Fd()) && term.IsTerminal(os.Stdout.Fd())
}
