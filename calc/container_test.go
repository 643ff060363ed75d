package calc

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// beerBottle and wineBottle have the limits of the carbonation notes, section 6.
var (
	beerBottle = Container{Name: "beer bottle", WarnVolumes: 3, StopVolumes: 4, StopBar: 5}
	wineBottle = Container{Name: "wine bottle", WarnVolumes: 0.1, StopVolumes: 0.3, StopBar: 0.5, Still: true}
)

// Ensure that a container is judged by the limit it is nearest to breaking.
func TestContainer_Judge(t *testing.T) {
	sealed := func(volumes, news VolumesCO2, gauge, withAir BarGauge) Sealed {
		return Sealed{New: news.GramPerLitre(), CO2: volumes.GramPerLitre(), Gauge: gauge, GaugeWithAir: withAir}
	}
	nan := math.NaN()
	for name, row := range map[string]struct {
		in     Container
		holds  Sealed
		want   Verdict
		reason Reason
		share  float64
	}{
		"well inside":                  {beerBottle, sealed(2, 2, 1, 2), Fine, NoReason, 0.5},
		"nearer to its pressure":       {beerBottle, sealed(2, 2, 2.5, 3.5), Fine, NoReason, 0.7},
		"at the warning":               {beerBottle, sealed(3, 2, 1, 2), Fine, NoReason, 0.75},
		"past the warning":             {beerBottle, sealed(3.001, 2, 1, 2), Caution, ByVolumes, 0.75025},
		"past the warning, pressed":    {beerBottle, sealed(3.1, 2, 2.9, 3.95), Caution, ByVolumes, 0.775},
		"past both warnings":           {beerBottle, sealed(3.1, 2, 3.5, 4.5), Caution, ByGauge, 0.9},
		"near its pressure":            {beerBottle, sealed(2, 2, 3, 4.0001), Caution, ByGauge, 0.80002},
		"at four fifths":               {beerBottle, sealed(2, 2, 3, 4), Fine, NoReason, 0.8},
		"at both limits":               {beerBottle, sealed(4, 2, 4, 5), Caution, ByVolumes, 1},
		"past the stop":                {beerBottle, sealed(4.004, 2, 1, 2), Danger, ByVolumes, 1.001},
		"past the pressure":            {beerBottle, sealed(2, 2, 4, 5.005), Danger, ByGauge, 1.001},
		"past pressure, warned by gas": {beerBottle, sealed(3.9, 2, 4, 6), Danger, ByGauge, 1.2},
		"past both":                    {beerBottle, sealed(6, 2, 4, 6), Danger, ByVolumes, 1.5},
		"without air the higher":       {beerBottle, sealed(2, 2, 5.5, 4), Danger, ByGauge, 1.1},
		"below the atmosphere":         {beerBottle, sealed(0.4, 0.4, -0.5, 0.4), Fine, NoReason, 0.1},
		"nonsense":                     {beerBottle, sealed(VolumesCO2(nan), 0, 1, 2), Danger, ByVolumes, nan},
		"nonsense in the pressure":     {beerBottle, sealed(2, 0, BarGauge(nan), BarGauge(nan)), Danger, ByGauge, nan},
		"still and saturated":          {wineBottle, sealed(0.85, 0, 0, 1), Fine, NoReason, 0},
		"still, in the sun":            {wineBottle, sealed(0.85, 0, 0.35, 1.4), Fine, NoReason, 0.7},
		"still, some new gas":          {wineBottle, sealed(1, 0.15, 0.2, 1.2), Caution, ByNewGas, 0.5},
		"still, too much new gas":      {wineBottle, sealed(1.2, 0.36, 0.4, 1.4), Danger, ByNewGas, 1.2},
		"still, pressed":               {wineBottle, sealed(1.2, 0.09, 0.6, 1.6), Danger, ByGauge, 1.2},
	} {
		t.Run(name, func(t *testing.T) {
			got := row.in.Judge(row.holds)
			sameShare := math.Abs(got.Share-row.share) < 1e-12 || math.IsNaN(got.Share) && math.IsNaN(row.share)
			if got.Verdict != row.want || got.Reason != row.reason || !sameShare {
				t.Errorf("Judge(%+v) = %v by %q, share %v, want %v by %q, %v",
					row.holds, got.Verdict, got.Reason, got.Share, row.want, row.reason, row.share)
			}
		})
	}

	t.Run("is as the notes say of sugar closed in", func(t *testing.T) {
		// Section 6: stop above 1.2 g/L in still bottles; 12 g/L is the limit of beer
		// bottles, 5 to 6 bar at 30 °C.
		for _, row := range []struct {
			in    Container
			sugar GramPerLitre
			store Celsius
			want  Verdict
		}{
			{wineBottle, 0, 20, Fine}, {wineBottle, 0, 30, Fine}, {wineBottle, 1, 20, Caution}, {wineBottle, 1.2, 20, Danger},
			{wineBottle, 4, 20, Danger}, {beerBottle, 6, 20, Fine}, {beerBottle, 9, 20, Caution},
			{beerBottle, 12, 30, Danger}, {beerBottle, 13, 20, Danger}, {beerBottle, 45, 5, Danger},
		} {
			s, err := stillAt20(t).SealedPressure(row.sugar, row.store)
			wantNoError(t, err)
			if got := row.in.Judge(s); got.Verdict != row.want {
				t.Errorf("%s with %v g/L at %v °C: %+v, want %v", row.in.Name, row.sugar, row.store, got, row.want)
			}
		}
	})

	t.Run("never gets milder with more sugar or warmth", rapid.MakeCheck(func(t *rapid.T) {
		c := rapid.SampledFrom([]Container{beerBottle, wineBottle}).Draw(t, "container")
		b := Bottling{Residual: 1.66, At: 20, Headspace: 0.04}
		sugar, at := GramPerLitre(rapid.Float64Range(0, 20).Draw(t, "sugar")), Celsius(rapid.Float64Range(0, 40).Draw(t, "t"))
		judge := func(sugar GramPerLitre, at Celsius) Judgement {
			s, err := b.SealedPressure(sugar, at)
			if err != nil {
				t.Fatal(err)
			}
			return c.Judge(s)
		}
		j := judge(sugar, at)
		if judge(sugar+0.5, at).Verdict < j.Verdict || judge(sugar, at+2).Verdict < j.Verdict {
			t.Fatalf("%s with %v g/L at %v °C is %+v", c.Name, sugar, at, j)
		}
		if (j.Verdict == Fine) != (j.Reason == NoReason) || (j.Verdict == Danger) != (j.Share > 1) {
			t.Fatalf("%+v does not agree with itself", j)
		}
	}))
}

// Ensure that the words are short ones.
func TestVerdict_String(t *testing.T) {
	for v, want := range map[Verdict]string{Fine: "fine", Caution: "caution", Danger: "danger", 9: "unknown verdict"} {
		if got := v.String(); got != want {
			t.Errorf("Verdict(%d) is %q, want %q", v, got, want)
		}
	}
	for r, want := range map[Reason]string{NoReason: "", ByVolumes: "volumes", ByNewGas: "new gas", ByGauge: "pressure", 9: "unknown reason"} {
		if got := r.String(); got != want {
			t.Errorf("Reason(%d) is %q, want %q", r, got, want)
		}
	}
}

// Ensure that a table with a slip in it is refused.
func TestContainer_Validate(t *testing.T) {
	if err := beerBottle.Validate(); err != nil {
		t.Error(err)
	}
	if err := (Container{WarnVolumes: 3, StopVolumes: 4, StopBar: 5}).Validate(); !errors.Is(err, ErrOutOfRange) || !strings.Contains(err.Error(), "name") {
		t.Errorf("without a name: error %v", err)
	}
	for _, row := range []struct {
		lo, hi, step float64
		set          func(*Container, float64)
	}{
		{0.01, 4, 0.001, func(c *Container, x float64) { c.WarnVolumes = VolumesCO2(x) }},
		{3, 20, 0.001, func(c *Container, x float64) { c.StopVolumes = VolumesCO2(x) }},
		{0.01, 30, 0.001, func(c *Container, x float64) { c.StopBar = BarGauge(x) }},
	} {
		checkRange(t, row.lo, row.hi, row.step, func(x float64) error {
			c := beerBottle
			row.set(&c, x)
			return c.Validate()
		})
	}
}

func BenchmarkJudge(b *testing.B) {
	b.ReportAllocs()
	s, err := stillAt20(b).SealedPressure(10, 30)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		sink = beerBottle.Judge(s).Share
	}
}
