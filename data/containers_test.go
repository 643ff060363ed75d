package data

import (
	"math"
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
)

func containers(t *testing.T) map[string]calc.Container {
	t.Helper()
	all, err := Containers()
	if err != nil {
		t.Fatal(err)
	}
	byID := make(map[string]calc.Container)
	for _, c := range all {
		byID[c.ID] = c
	}
	return byID
}

// Ensure that every row can be listed, judged and cited.
func TestContainers(t *testing.T) {
	all, err := Containers()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 14 {
		t.Errorf("Containers() has %d rows, want 14 or more", len(all))
	}
	still := false
	for _, c := range all {
		if still = still || c.Still; still && !c.Still {
			t.Errorf("%s is made for pressure, but is listed after those that are not", c.ID)
		}
		if len([]rune(c.Name)) > 34 {
			t.Errorf("%s: the name %q is too long for the narrowest list", c.ID, c.Name)
		}
		if !strings.HasSuffix(c.Source, ")") || strings.Contains(c.Source, "()") {
			t.Errorf("%s: source %q does not say how it was checked", c.ID, c.Source)
		}
	}
}

// Ensure that the limits are those of the carbonation notes, section 6: warn above 3
// volumes in re-used beer bottles and stop above 4; stop above 6.5 volumes or 8 bar
// in sparkling-wine glass; stop above 0.3 volumes of new gas, or 0.5 bar, in what is
// not rated for pressure; and never beyond a stamped or tested pressure.
func TestContainers_Limits(t *testing.T) {
	byID := containers(t)
	if c := byID["beer_bottle_used"]; c.WarnVolumes != 3 || c.StopVolumes != 4 || c.Still {
		t.Errorf("re-used beer bottle: %+v", c)
	}
	if c := byID["sparkling_bottle"]; c.StopVolumes != 6.5 || c.StopBar != 8 || c.Still {
		t.Errorf("sparkling-wine bottle: %+v", c)
	}
	for _, id := range []string{"wine_bottle", "screw_cap_bottle", "spirit_bottle", "canning_jar", "decorative_bottle", "growler", "demijohn"} {
		if c := byID[id]; c.StopVolumes != 0.3 || c.StopBar != 0.5 || !c.Still {
			t.Errorf("%s: %+v, want a still one with 0.3 volumes and 0.5 bar", id, c)
		}
	}
	for id, known := range map[string]calc.BarGauge{
		"beer_bottle_used": 12.0 / 2, // re-use can halve it
		"beer_bottle_new":  12.0 / 2,
		"sparkling_bottle": 20.0 / 2,
		"pet_bottle":       8.6,
		"aluminium_can":    calc.PSI(100),
		"keg_19l":          calc.PSI(130),
		"keg_low":          calc.PSI(60),
	} {
		if c := byID[id]; c.StopBar > known || c.StopBar == 0 {
			t.Errorf("%s stops at %v bar, but %.2f are known", id, c.StopBar, float64(known))
		}
	}
}

// Ensure that the examples of the cautions come out as they say, in a drink that was
// closed at 20 °C with an ordinary headspace.
func TestContainers_Examples(t *testing.T) {
	byID := containers(t)
	still, err := calc.BottledAt(20, 0.04, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		id    string
		sugar calc.GramPerLitre
		store calc.Celsius
		want  calc.Verdict
	}{
		{"wine_bottle", 0, 20, calc.Fine},          // saturated with gas, as after any airlock
		{"wine_bottle", 0, 30, calc.Fine},          // and warm
		{"wine_bottle", 1, 20, calc.Caution},       // below 1.2 g/L
		{"wine_bottle", 1.2, 20, calc.Danger},      // 0.3 volumes
		{"wine_bottle", 4, 20, calc.Danger},        // "already puts 1.2 to 2.2 bar into a wine bottle"
		{"beer_bottle_used", 6, 20, calc.Fine},     // 2.4 volumes, an ordinary beer
		{"beer_bottle_used", 9, 20, calc.Caution},  // 3.2 volumes
		{"beer_bottle_used", 12, 20, calc.Caution}, // "the limit of beer bottles": 3.99 volumes
		{"beer_bottle_used", 12, 30, calc.Danger},  // 5 to 6 bar
		{"beer_bottle_used", 13, 20, calc.Danger},  // 4.3 volumes
		{"sparkling_bottle", 15, 20, calc.Fine},    // 4.8 volumes
		{"sparkling_bottle", 24, 20, calc.Danger},  // 7.1 volumes, 8.2 bar
		{"beer_bottle_new", 45, 5, calc.Danger},    // medium sweet and alive: bursts any
		{"sparkling_bottle", 45, 5, calc.Danger},   //
		{"keg_19l", 45, 5, calc.Danger},            //
		{"keg_low", 6, 20, calc.Fine},              // 2.4 volumes, 2.8 bar of 4
		{"keg_low", 7, 20, calc.Caution},           // 2.7 volumes
		{"decorative_bottle", 12, 20, calc.Danger}, //
		{"pet_bottle", 8, 25, calc.Fine},           // 2.9 volumes
		{"aluminium_can", 8, 30, calc.Caution},     // 2.9 volumes, 4.5 bar
		{"demijohn", 20, 10, calc.Danger},          //
		{"canning_jar", 2, 10, calc.Danger},        //
		{"growler", 6, 4, calc.Danger},             //
		{"spirit_bottle", 300, -1, calc.Danger},    //
		{"screw_cap_bottle", 0.3, 15, calc.Fine},   // 0.08 volumes
		{"sparkling_bottle", 0, 5, calc.Fine},      //
		{"beer_bottle_used", 6, 40, calc.Caution},  // a car in summer: 4.8 bar of 5
		{"beer_bottle_used", 6.5, 40, calc.Danger}, // 2.5 volumes, and more than 5 bar
		{"beer_bottle_new", 6.5, 40, calc.Caution}, //
		{"sparkling_bottle", 17.5, 20, calc.Fine},  // 5.4 volumes and 6.2 bar
		{"sparkling_bottle", 20, 20, calc.Caution}, // 6.1 volumes
		{"sparkling_bottle", 20, 30, calc.Danger},  // 9.3 bar
	} {
		got, err := still.SealedPressure(row.sugar, row.store)
		if err != nil {
			t.Fatal(err)
		}
		if j := byID[row.id].Judge(got); j.Verdict != row.want {
			t.Errorf("%s with %v g/L at %v °C: %v by %v, share %.2f (%.2f volumes, %.2f bar), want %v",
				row.id, row.sugar, row.store, j.Verdict, j.Reason, j.Share, got.Volumes(), got.Highest(), row.want)
		}
	}
}

const (
	containerHeader = "id,name,warn_volumes,stop_volumes,stop_bar,still,note,source,checked\n"
	containerRow    = "flask,flask,0.1,0.3,0.5,yes,,a table,read\n"
)

// Ensure that an edited table that cannot be right is refused where it is wrong.
func TestParseContainers_Refuses(t *testing.T) {
	if _, err := parseContainers("\ufeff# first\n" + containerHeader + "# second\n\n" + containerRow); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ table, want string }{
		"nothing":         {"", "columns"},
		"no rows":         {containerHeader, "no rows"},
		"missing column":  {strings.Replace(containerHeader, ",checked", "", 1) + containerRow, "wrong number of fields"},
		"unknown column":  {strings.Replace(containerHeader, "note", "remark", 1) + containerRow, `column 7 is "remark", want "note"`},
		"short row":       {containerHeader + "flask,flask\n", "line 2"},
		"not a number":    {containerHeader + strings.Replace(containerRow, "0.5", "half", 1), `row "flask" on line 2, column stop_bar: "half" is not a number`},
		"two not numbers": {containerHeader + strings.Replace(containerRow, "0.1,0.3", "few,more", 1), `column warn_volumes: "few"`},
		"negative":        {containerHeader + strings.Replace(containerRow, "0.5", "-0.5", 1), "stop pressure -0.5 bar is outside"},
		"not finite":      {containerHeader + strings.Replace(containerRow, "0.3", "NaN", 1), "stop volumes: not a number"},
		"reversed":        {containerHeader + strings.Replace(containerRow, "0.1", "0.4", 1), "warn volumes 0.4 is outside"},
		"psi for bar":     {containerHeader + strings.Replace(containerRow, "0.5", "130", 1), "stop pressure 130 bar"},
		"neither":         {containerHeader + strings.Replace(containerRow, "yes", "maybe", 1), `column still: "maybe" is neither yes nor no`},
		"no source":       {containerHeader + strings.Replace(containerRow, "a table", " ", 1), "column source: it is empty"},
		"escape code":     {containerHeader + strings.Replace(containerRow, "a table", "a \x1b[31m", 1), "column source: it holds an unprintable"},
		"row twice":       {containerHeader + containerRow + containerRow, `line 3: "flask" is on line 2 already`},
		"name of another": {containerHeader + containerRow + strings.Replace(containerRow, "flask,flask", "second,Flask", 1), `"flask" is on line 2 already`},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := parseContainers(c.table)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error is %v, want it to say %q", err, c.want)
			}
		})
	}
}

// Ensure that a table, whatever it holds, is refused or gives containers that can be
// judged by.
func FuzzParseContainers(f *testing.F) {
	f.Add(containerHeader + containerRow)
	f.Fuzz(func(t *testing.T, table string) {
		all, err := parseContainers(table)
		if err != nil {
			return
		}
		for _, c := range all {
			if err := c.Validate(); err != nil {
				t.Errorf("%s: %v", c.ID, err)
			}
			if j := c.Judge(calc.Sealed{}); j.Verdict != calc.Fine || math.IsNaN(j.Share) {
				t.Errorf("%s is %v, share %v, when it is empty", c.ID, j.Verdict, j.Share)
			}
		}
	})
}
