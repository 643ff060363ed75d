// Package cli is glassrow for scripts and for people in a hurry: every command
// does one thing, prints it and ends. It reads flags, asks package model and
// package calc, and puts the answer into words or JSON.
//
// It holds no formula, and it does not know what a cellar's file looks like: the
// program that wires it hands in how to open one. Nothing from a cellar reaches
// the terminal without passing Words.Text or escapeUnprintable.
package cli

import (
	"errors"
	"fmt"
	"io"
	"runtime"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/words"
)

// ErrNoCellar is wrapped by the error of Deps.Open when there is no cellar at the
// path. Any other error means that there is something, and it cannot be used.
var ErrNoCellar = errors.New("no cellar there")

// Deps is all that the commands need of the rest of the program and of the
// world around it.
type Deps struct {
	// Open opens the cellar at path. Its error wraps ErrNoCellar when there is
	// no file.
	Open func(path string) (ui.Store, error)

	// Create makes an empty cellar at path, where there is none.
	Create func(path string, s model.Settings) (ui.Store, error)

	// Demo writes the demo cellar, as it would be at now, to a new file.
	Demo func(path string, now time.Time) (ui.Store, error)

	// WriteFile writes a file whole or not at all. Unless over is set, its error
	// wraps fs.ErrExist when there is one.
	WriteFile func(path string, content []byte, over bool) error

	// Cellars is what is done to the file of a whole cellar.
	Cellars Cellars

	// Sweeteners are the rows of the handbook.
	Sweeteners []model.Sweetener

	// Handbook is the other tables.
	Handbook Handbook

	// Own is where the person's own rows of the handbook are kept; nil: nowhere.
	Own ui.Handbook

	// Dashboard shows the dashboard and returns when the person leaves it.
	Dashboard func(DashboardRequest) error

	Now      func() time.Time
	Getenv   func(string) string
	Terminal bool // standard output and standard input are a terminal
	In       io.Reader
	Out, Err io.Writer
}

// Cellars is what is done to the file of a whole cellar, beside opening it: it goes out,
// comes in, is copied, brought back and checked. Paths are absolute. The errors are for
// people; those about what a file says wrap model.ErrInvalid.
type Cellars interface {
	// Export writes the cellar at path, as one moment saw it, as JSON lines.
	Export(path string, w io.Writer) (model.Contents, error)

	// Import reads such lines into the cellar at path, all or nothing; it is made if
	// there is none. One that has content is refused unless add is set: then what it
	// lacks is added.
	Import(path string, in io.Reader, add bool) (model.Imported, error)

	// ImportFile is Import from a file.
	ImportFile(path, from string, add bool) (model.Imported, error)

	// Backup copies the cellar to a file and reads that again; faults counts the records
	// that could not be read. Unless over is set, its error wraps fs.ErrExist when there
	// is such a file.
	Backup(path, to string, over bool) (c model.Contents, faults int, err error)

	// Restore puts a backup in the place of the cellar at path, and returns the name
	// under which what was there is kept; empty if there was nothing.
	Restore(path, from string, force bool, now time.Time) (kept string, c model.Contents, err error)

	// Check returns what is wrong with the cellar. With repair, what can be worked out
	// again from the journals has been.
	Check(path string, repair bool) ([]model.Fault, model.Contents, error)

	// Series visits the readings that a device made of a batch, in order of time.
	Series(path string, id model.BatchID, visit func(at time.Time, r model.Reading) error) error

	// WriteFile writes a file whole or not at all, from what fill writes. Unless over is
	// set, its error wraps fs.ErrExist when there is one.
	WriteFile(to string, over bool, fill func(io.Writer) error) error
}

// DashboardRequest says which cellar the dashboard is to show.
type DashboardRequest struct {
	Path  string
	Store ui.Store // nil: no cellar at Path yet, the person's first run
	Demo  bool

	// OwnRows is the folder of the own rows of the handbook; empty: the usual one.
	OwnRows string
}

// app is the commands' common state.
type app struct {
	Deps
	cellar string // the flag
}

// Run carries out a command line, without the program's name, and returns the
// exit code. What went wrong stands on Err.
func Run(d Deps, args []string) int {
	root := New(d)
	root.SetArgs(append([]string{}, args...)) // never nil, which would mean os.Args
	if err := root.Execute(); err != nil {
		a := app{Deps: d}
		fmt.Fprintf(d.Err, "glassrow: %s\n", a.words(model.Settings{}).Text(words.PlainError(err)))
		return 1
	}
	return 0
}

// words returns how to write for the person whose settings these are, on this
// terminal; the dashboard's rule for what it can show holds here too.
func (a *app) words(s model.Settings) words.Words {
	return ui.GlyphsFor(ui.RunesFor(a.Getenv)).Words(s.US)
}

// show writes to standard output. A disk that is full is an error like any other.
func (a *app) show(text string) error {
	if _, err := io.WriteString(a.Out, text); err != nil {
		return fmt.Errorf("write the answer: %w", err)
	}
	return nil
}

// caution tells of something on standard error that does not stop the command.
func (a *app) caution(say words.Words, text string) {
	fmt.Fprintf(a.Err, "glassrow: %s\n", say.Text(text))
}

// groups of commands in the help.
const (
	groupCellar = "cellar"
	groupBench  = "bench"
)

// New returns the command line of glassrow.
func New(d Deps) *cobra.Command {
	a := &app{Deps: d}
	root := &cobra.Command{
		Use:   "glassrow",
		Short: "what is in your vessels, and what it could become",
		Long: `glassrow keeps the journal of every batch in your cellar and works out from it
how much sugar and alcohol is in the glass now, and what an addition would do.

Without a command it shows the dashboard.`,
		Example: `  glassrow demo
  glassrow vessel add N1 --kind carboy --capacity 23L
  glassrow start "Heather mead" --vessel N1 --kind mead --volume 19L --gravity 1.104 --yeast wine
  glassrow record N1 1.034 @21c
  glassrow sweeten N1 --with honey --to 1.012`,
		Args:                       noSuchCommand,
		RunE:                       func(*cobra.Command, []string) error { return a.dashboard() },
		Version:                    version(),
		PersistentPreRunE:          func(cmd *cobra.Command, _ []string) error { return namedFiles(cmd) },
		SilenceErrors:              true,
		SilenceUsage:               true,
		SuggestionsMinimumDistance: 2,
	}
	root.SetIn(d.In)
	root.SetOut(d.Out)
	root.SetErr(d.Err)
	root.SetVersionTemplate("glassrow {{.Version}}\n")
	root.SetFlagErrorFunc(flagError)
	root.PersistentFlags().StringVar(&a.cellar, "cellar", "",
		"the cellar's `FILE`; otherwise $GLASSROW_CELLAR, otherwise cellar.db in your data directory")
	root.AddGroup(&cobra.Group{ID: groupCellar, Title: "Your cellar:"}, &cobra.Group{ID: groupBench, Title: "Without a cellar:"})
	root.SetHelpCommandGroupID(groupBench)
	root.SetCompletionCommandGroupID(groupBench)
	add(root, groupCellar, a.glanceCommand(), a.vesselCommand(), a.startCommand(), a.pitchCommand(),
		a.addCommand(), a.pressCommand(),
		a.recordCommand(), a.noteCommand(), a.sweetenCommand(), a.planCommand(), a.benchCommand(), a.stabiliseCommand(), a.primeCommand(), a.settingsCommand(), a.journalCommand(), a.undoCommand(), a.voidCommand(), a.sheetCommand(),
		a.recipeCommand(), a.bottlesCommand(), a.tasteCommand(), a.dueCommand(), a.remindCommand(),
		a.rackCommand(), a.splitCommand(), a.blendCommand(), a.topUpCommand(), a.drawCommand(),
		a.feedCommand(), a.stirCommand(), a.fineCommand(), a.moveCommand(), a.bottleCommand(),
		a.exportCommand(), a.importCommand(), a.backupCommand(), a.restoreCommand(), a.checkCommand())
	add(root, groupBench, a.demoCommand(), a.calcCommand(), a.handbookCommand())
	ownHelp(root)
	completeTheRest(root)
	return root
}

// ownHelp puts the two commands that cobra brings into the words of the others.
func ownHelp(root *cobra.Command) {
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		switch c.Name() {
		case "help":
			c.Short = "say more about a command"
		case "completion":
			c.Short = "print what makes your shell complete commands and labels"
		}
	}
}

func add(root *cobra.Command, group string, commands ...*cobra.Command) {
	for _, c := range commands {
		c.GroupID = group
		root.AddCommand(c)
	}
}

// dashboard shows the dashboard, or the shelf once where there is no screen for it.
func (a *app) dashboard() error {
	if !a.hasScreen() {
		return a.glance(false)
	}
	path, err := a.path()
	if err != nil {
		return err
	}
	store, err := a.Open(path)
	if err != nil && !errors.Is(err, ErrNoCellar) {
		return err
	}
	if err != nil {
		store = nil
	}
	return a.Dashboard(DashboardRequest{Path: path, Store: store})
}

// hasScreen reports whether the dashboard can be drawn: a terminal that knows at
// least how to move its cursor.
func (a *app) hasScreen() bool {
	term := a.Getenv("TERM")
	return a.Terminal && term != "dumb" && (term != "" || runtime.GOOS == "windows")
}
