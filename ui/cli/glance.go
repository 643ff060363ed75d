package cli

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
	"cellar.local/glassrow/ui"
	"cellar.local/glassrow/ui/cells"
	"cellar.local/glassrow/ui/words"
)

func (a *app) glanceCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "glance",
		Short: "print the shelf once, what needs attention first",
		Long: `Print every vessel with what its batch is doing, what needs attention first.
! marks a batch in trouble, * one with something overdue.`,
		Example: "  glassrow glance\n  glassrow glance --json",
		Args:    takes(0, 0, "no more"),
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.glance(on(cmd, "json")) },
	}
	jsonFlag(cmd)
	return cmd
}

func (a *app) glance(asJSON bool) error {
	store, shelf, err := a.open()
	if err != nil {
		return err
	}
	if asJSON {
		if err := foresee(store, &shelf); err != nil {
			return err
		}
		weighed, err := weighings(store, shelf)
		if err != nil {
			return err
		}
		return a.showJSON(newGlanceJSON(store, shelf, weighed, a.Now()))
	}
	return a.show(a.shelfText(shelf))
}

// defaultWidth is the width of a line where the terminal does not say.
const defaultWidth = 80

// width returns how long a line may be.
func (a *app) width() int {
	if n, err := strconv.Atoi(a.Getenv("COLUMNS")); err == nil && n >= 20 {
		return n
	}
	return defaultWidth
}

// shelfText is the shelf as a table, and under it why a batch is in trouble.
func (a *app) shelfText(shelf model.Shelf) string {
	now, say, width := a.Now(), a.words(shelf.Settings), a.width()
	rows := shelf.Rows(now)
	out := []string{title(shelf.Settings, countRows(rows, now), say, width)}
	if len(rows) == 0 {
		out = append(out, "Add one with glassrow vessel add LABEL --kind carboy --capacity 23L")
		return joinLines(out)
	}
	out = append(out, lines(shelfColumns(rows, say, now, width), width)...)
	for _, r := range rows {
		if r.Urgency(now) == model.Trouble {
			out = append(out, trouble(r, say, width)...)
		}
	}
	return joinLines(out)
}

// title names the cellar, cut so that the count after it is whole.
func title(s model.Settings, count string, say words.Words, width int) string {
	name := s.CellarName
	if name == "" {
		name = "Cellar"
	}
	return cells.Cut(say.Text(name), width-cells.Width(count)-2) + ": " + count
}

func joinLines(s []string) string { return strings.Join(s, "\n") + "\n" }

func countRows(rows []model.Row, now time.Time) string {
	attention := 0
	for _, r := range rows {
		if u := r.Urgency(now); u == model.Trouble || u == model.Overdue {
			attention++
		}
	}
	text := words.Count(len(rows), "vessel", "vessels")
	if len(rows) == 0 {
		text = "no vessels yet"
	}
	switch attention {
	case 0:
		return text
	case 1:
		return text + ", 1 needs attention"
	}
	return fmt.Sprintf("%s, %d need attention", text, attention)
}

// shelfColumns is the table of the shelf. In a narrow one the strength goes
// without its uncertainty.
func shelfColumns(rows []model.Row, say words.Words, now time.Time, width int) []column {
	vessel := column{title: "  vessel"}
	standing := column{title: "standing"}
	name := column{title: "batch", least: 8, spare: 2}
	gravity := column{title: "SG", right: true}
	strength := column{title: "% vol", right: true}
	read := column{title: "read", right: true, spare: 3}
	next := column{title: "next"}
	for _, r := range rows {
		b := r.Batch
		vessel.cells = append(vessel.cells, urgencyMark(r.Urgency(now))+" "+say.Text(r.Vessel.Label))
		standing.cells = append(standing.cells, string(r.Standing()))
		if r.Empty() || b.Problem != "" {
			name.cells = append(name.cells, say.Text(b.Name))
			for _, c := range []*column{&gravity, &strength, &read, &next} {
				c.cells = append(c.cells, "")
			}
			continue
		}
		name.cells = append(name.cells, say.Text(b.Name))
		gravity.cells = append(gravity.cells, say.Gravity(b.SG))
		abv := say.Percent(b.Strength, b.PlusMinus)
		if width < 60 {
			abv = say.Percent(b.Strength, 0)
		}
		strength.cells = append(strength.cells, abv)
		read.cells = append(read.cells, words.Age(b.LastReading, now))
		next.cells = append(next.cells, nextDue(r, say, now))
	}
	return []column{vessel, standing, name, gravity, strength, read, next}
}

// nextDue says the next thing due of a batch: read, 2d late.
func nextDue(r model.Row, say words.Words, now time.Time) string {
	d := r.Next()
	if d.At.IsZero() {
		return ""
	}
	return say.Text(d.What) + " " + words.Due(d.At, now)
}

func urgencyMark(u model.Urgency) string {
	switch u {
	case model.Trouble:
		return "!"
	case model.Overdue:
		return "*"
	}
	return " "
}

// trouble says what is wrong with the batch of a row.
func trouble(r model.Row, say words.Words, width int) []string {
	why := strings.Join(r.Batch.Evidence, "; ")
	if r.Batch.Check != "" {
		why += "; " + r.Batch.Check
	}
	if r.Batch.Problem != "" {
		why = "the journal cannot be worked out: " + r.Batch.Problem
	}
	text := cells.Wrap(say.Text(r.Vessel.Label+": "+why), width-2)
	for i := range text {
		if i == 0 {
			text[i] = "! " + text[i]
		} else {
			text[i] = "  " + text[i]
		}
	}
	return text
}

type glanceJSON struct {
	Cellar   string     `json:"cellar"`
	Path     string     `json:"path"`
	Revision uint64     `json:"revision"`
	Vessels  []rackJSON `json:"vessels"`
}

// rackJSON is a vessel and what is in it.
type rackJSON struct {
	Label    string     `json:"label"`
	Kind     string     `json:"kind"`
	Capacity number     `json:"capacity_l"`
	Place    string     `json:"place"`
	Tare     *number    `json:"tare_g,omitempty"`
	Batch    *batchJSON `json:"batch"`
}

type batchJSON struct {
	ID          uint64       `json:"id"`
	Name        string       `json:"name"`
	Kind        string       `json:"kind"`
	Standing    string       `json:"standing"`
	Evidence    []string     `json:"evidence"`
	RuledOut    []string     `json:"ruled_out"`
	Check       string       `json:"check,omitempty"` // of trouble, what to look at first
	Decides     stamp        `json:"decides"`         // when the next reading will tell
	Trouble     bool         `json:"trouble"`
	Problem     string       `json:"problem,omitempty"`
	SG          *number      `json:"sg"`
	OriginalSG  *number      `json:"original_sg"`
	ABV         *number      `json:"abv_pct"`
	PlusMinus   *number      `json:"abv_plus_minus_pct"`
	Volume      *number      `json:"volume_l"`               // of the drink
	LateSugar   *number      `json:"late_sugar_g,omitempty"` // still inside the fruit, when the drink was last touched
	FruitRoom   *number      `json:"fruit_l,omitempty"`      // that the fruit takes up beside the drink
	Weighed     *weighedJSON `json:"weighed,omitempty"`      // since anything came or went
	Started     stamp        `json:"started"`
	Pitched     stamp        `json:"pitched"`
	LastReading stamp        `json:"last_reading"`
	Next        *dueJSON     `json:"next"`

	Forecast *forecastJSON `json:"forecast"`
}

// forecastJSON is where a ferment ends and when: the median and the ends of the range
// that holds the truth four times in five. Where nothing is known it says why.
type forecastJSON struct {
	Known      bool    `json:"known"`
	Why        string  `json:"why,omitempty"`
	FG         *number `json:"fg"`
	FGLow      *number `json:"fg_low"`
	FGHigh     *number `json:"fg_high"`
	Finish     stamp   `json:"finish"`
	FinishLow  stamp   `json:"finish_low"`
	FinishHigh stamp   `json:"finish_high"`
}

func newForecastJSON(o *model.Outlook) *forecastJSON {
	if o == nil {
		return nil
	}
	return &forecastJSON{
		Known: o.Known, Why: o.Why, FG: known(o.Final.Median), FGLow: known(o.Final.Low), FGHigh: known(o.Final.High),
		Finish: stamp(o.Finish.Median), FinishLow: stamp(o.Finish.Low), FinishHigh: stamp(o.Finish.High),
	}
}

// foresee works out the outlooks that the store does not have yet.
func foresee(store ui.Store, shelf *model.Shelf) error {
	for i, sum := range shelf.Batches {
		if sum.Outlook != nil || sum.Problem != "" {
			continue
		}
		b, err := store.Batch(sum.Batch)
		if err != nil {
			return err
		}
		shelf.Batches[i] = sum.Foreseen(b)
	}
	return nil
}

type dueJSON struct {
	Key     string `json:"key"`
	What    string `json:"what"`
	At      stamp  `json:"at"`
	Because string `json:"because"`
}

func newDueJSON(d model.Due) *dueJSON {
	return &dueJSON{Key: d.Key, What: d.What, At: stamp(d.At), Because: d.Because}
}

func newGlanceJSON(store ui.Store, shelf model.Shelf, weighed map[model.BatchID]*weighedJSON, now time.Time) glanceJSON {
	g := glanceJSON{Cellar: shelf.Settings.CellarName, Path: store.Path(), Revision: shelf.Revision, Vessels: []rackJSON{}}
	for _, r := range shelf.Rows(now) {
		rack := newRackJSON(r)
		if rack.Batch != nil {
			rack.Batch.Weighed = weighed[r.Batch.Batch]
		}
		g.Vessels = append(g.Vessels, rack)
	}
	return g
}

func newRackJSON(r model.Row) rackJSON {
	out := rackJSON{Label: r.Vessel.Label, Kind: string(r.Vessel.Kind), Capacity: number(r.Vessel.Capacity), Place: r.Vessel.Place, Tare: known(r.Vessel.Tare)}
	if r.Empty() {
		return out
	}
	b := r.Batch
	out.Batch = &batchJSON{
		ID: uint64(b.Batch), Name: b.Name, Kind: string(b.Drink),
		Standing: string(b.Standing), Evidence: append([]string{}, b.Evidence...), Trouble: b.Trouble, Problem: b.Problem,
		RuledOut: append([]string{}, b.RuledOut...), Check: b.Check, Decides: stamp(b.Decides), Forecast: newForecastJSON(b.Outlook),
		SG: known(b.SG), OriginalSG: known(b.Original), Volume: known(b.Volume), LateSugar: known(b.LateSugar), FruitRoom: known(b.FruitRoom),
		Started: stamp(b.Started), Pitched: stamp(b.Pitched), LastReading: stamp(b.LastReading),
	}
	if b.SG != 0 {
		out.Batch.ABV, out.Batch.PlusMinus = figure(b.Strength), figure(b.PlusMinus)
	}
	if d := r.Next(); !d.At.IsZero() {
		out.Batch.Next = newDueJSON(d)
	}
	return out
}
