package cli

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func (a *app) calcForecastCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "forecast",
		Short: "where a ferment ends and when, from readings on standard input",
		Long: `Read lines of hours since the pitch and gravity, as 48,1.062, and tell where gravity
comes to rest and when, each with the range that holds the truth four times in five.
The first reading is taken for the must. Nothing is known of it but its gravity; a
batch whose journal is kept is foreseen better, see glance --json. A heading and lines
that begin with # are passed over.`,
		Example: "  glassrow calc forecast --yeast wine --temp 20C < readings.csv",
		Args:    takes(0, 0, "no more"),
		RunE:    func(cmd *cobra.Command, _ []string) error { return a.calcForecast(cmd) },
	}
	uptakeFlags(cmd)
	return cmd
}

type calcForecastJSON struct {
	Standing   string  `json:"standing"`
	FG         *number `json:"fg"`
	FGLow      *number `json:"fg_low"`
	FGHigh     *number `json:"fg_high"`
	Finish     *number `json:"finish_h"`
	FinishLow  *number `json:"finish_low_h"`
	FinishHigh *number `json:"finish_high_h"`
}

// phaseWords says what a fitted curve does in the words of the standings.
var phaseWords = map[calc.Phase]string{
	calc.PhaseUnknown:  "unknown",
	calc.PhaseLag:      string(model.Lag),
	calc.PhaseWorking:  string(model.Working),
	calc.PhaseSlowing:  string(model.Slowing),
	calc.PhaseFinished: string(model.Done),
	calc.PhaseStopped:  string(model.Stuck),
}

func (a *app) calcForecast(cmd *cobra.Command) error {
	group, t, err := yeastAndWarmth(cmd)
	if err != nil {
		return err
	}
	readings, start, err := readTimedGravities(a.In)
	if err != nil {
		return err
	}
	p, err := calc.ProspectOf(readings[0].SG, t, group.Tolerance())
	if err != nil {
		return err
	}
	f, err := p.Forecast(readings)
	if err != nil {
		return err
	}
	out := calcForecastJSON{Standing: phaseWords[f.Phase]}
	if !f.Known {
		return a.answer(cmd, out, out.Standing, "nothing can be said yet: three readings after the lag will do")
	}
	hours := func(h calc.Hour) *number { return figure(h + start) }
	out.FG, out.FGLow, out.FGHigh = figure(f.Final.Median), figure(f.Final.Low), figure(f.Final.High)
	out.Finish, out.FinishLow, out.FinishHigh = hours(f.Finish.Median), hours(f.Finish.Low), hours(f.Finish.High)
	said := []string{
		out.Standing,
		fmt.Sprintf("ends at %.3f, between %.3f and %.3f", float64(f.Final.Median), float64(f.Final.Low), float64(f.Final.High)),
		fmt.Sprintf("after %.1f days, between %.1f and %.1f", float64(*out.Finish)/24, float64(*out.FinishLow)/24, float64(*out.FinishHigh)/24),
	}
	for _, i := range f.Odd {
		said = append(said, fmt.Sprintf("%.3f at %.0f h lies far off and hardly counted", float64(readings[i].SG), float64(readings[i].At+start)))
	}
	return a.answer(cmd, out, said...)
}

// readTimedGravities reads lines of hours and gravity. Times come back counted from
// the earliest, which is the first of the readings, and start is when that was.
func readTimedGravities(in io.Reader) (readings []calc.TimedGravity, start calc.Hour, err error) {
	lines := bufio.NewScanner(in)
	for n := 1; lines.Scan(); n++ {
		line := strings.TrimSpace(strings.TrimPrefix(lines.Text(), "\ufeff"))
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		r, err := parseTimedGravity(line)
		if err != nil && len(readings) == 0 && !strings.ContainsAny(line[:1], "-+.0123456789") {
			continue // a heading
		}
		if err != nil {
			return nil, 0, fmt.Errorf("line %d: %w", n, err)
		}
		readings = append(readings, r)
		if n := len(readings) - 1; r.At < readings[0].At {
			readings[0], readings[n] = readings[n], readings[0]
		}
	}
	if err := lines.Err(); err != nil {
		return nil, 0, err
	}
	if len(readings) == 0 {
		return nil, 0, fmt.Errorf("no readings on standard input; write lines such as 48,1.062: %w", model.ErrInvalid)
	}
	start = readings[0].At
	for i := range readings {
		readings[i].At -= start
	}
	return readings, start, nil
}

func parseTimedGravity(line string) (calc.TimedGravity, error) {
	hours, gravity, ok := strings.Cut(line, ",")
	if !ok {
		return calc.TimedGravity{}, fmt.Errorf("%q is not understood; write hours and gravity, as 48,1.062: %w", line, model.ErrInvalid)
	}
	h, err := parseNumber(hours, "time", "h")
	if err != nil {
		return calc.TimedGravity{}, err
	}
	gravity, _, _ = strings.Cut(gravity, ",")
	sg, err := model.ParseGravity(strings.TrimSpace(gravity))
	return calc.TimedGravity{At: calc.Hour(h), SG: sg}, err
}
