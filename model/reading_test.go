package model

import (
	"errors"
	"math"
	"strings"
	"testing"

	"cellar.local/glassrow/calc"
)

// Ensure that a reading is understood however it is typed.
func TestParseReading(t *testing.T) {
	for text, want := range map[string]Reading{
		"1.034":         {Gravity: 1.034, Scale: ScaleSG},
		"1034":          {Gravity: 1.034, Scale: ScaleSG},
		"34":            {Gravity: 1.034, Scale: ScaleSG},
		"1,034":         {Gravity: 1.034, Scale: ScaleSG}, // a decimal comma
		"0,998":         {Gravity: 0.998, Scale: ScaleSG},
		"1.034sg":       {Gravity: 1.034, Scale: ScaleSG},
		"-2":            {Gravity: 0.998, Scale: ScaleSG},
		"0":             {Gravity: 1, Scale: ScaleSG},
		"998":           {Gravity: 0.998, Scale: ScaleSG},
		"10bx":          {Gravity: 1.039984, Scale: ScaleBrix}, // ICUMSA SPS-4
		"10Brix":        {Gravity: 1.039984, Scale: ScaleBrix},
		"10°P":          {Gravity: 1.039984, Scale: ScalePlato},
		"1.034@21c":     {Gravity: 1.034, Scale: ScaleSG, HasTemperature: true, Temperature: 21},
		"@21C 1.034":    {Gravity: 1.034, Scale: ScaleSG, HasTemperature: true, Temperature: 21},
		"1.034 @68°f":   {Gravity: 1.034, Scale: ScaleSG, HasTemperature: true, Temperature: 20},
		"1.034 ph3.4":   {Gravity: 1.034, Scale: ScaleSG, PH: 3.4},
		"pH=3,4":        {Scale: ScaleSG, PH: 3.4},
		"@21c":          {Scale: ScaleSG, HasTemperature: true, Temperature: 21},
		"1.034; clear":  {Gravity: 1.034, Scale: ScaleSG, Note: "clear"},
		"1.034 ;a;b ":   {Gravity: 1.034, Scale: ScaleSG, Note: "a;b"},
		"1.034 ; 1.050": {Gravity: 1.034, Scale: ScaleSG, Note: "1.050"},
	} {
		t.Run(text, func(t *testing.T) {
			got, err := ParseReading(text, 20)
			if err != nil {
				t.Fatalf("ParseReading(%q): %v", text, err)
			}
			want.Calibration = 20
			if math.Abs(float64(got.Gravity-want.Gravity)) > 5e-7 || math.Abs(float64(got.Temperature-want.Temperature)) > 1e-9 {
				t.Errorf("ParseReading(%q) = %.6f at %v, want %.6f at %v", text, float64(got.Gravity), got.Temperature, float64(want.Gravity), want.Temperature)
			}
			got.Gravity, got.Temperature = want.Gravity, want.Temperature
			if got != want {
				t.Errorf("ParseReading(%q) = %+v, want %+v", text, got, want)
			}
		})
	}

	// The second text is in the complaint, so that a person sees which part it is.
	for text, says := range map[string]string{
		"":               "nothing read",
		"; tastes good":  "note without a reading",
		"8.5":            "8.5bx",
		"1.5":            "Brix or points",
		"0.5":            "0.970 to 1.200",
		"1.25":           "0.970 to 1.200",
		"1.034 1.035":    "second gravity",
		"@20c @21c":      "second temperature",
		"ph3 ph4":        "second pH",
		"@21":            "@21c or @70f",
		"@80c":           "0 to 40",
		"1.034@-3c":      "0 to 40",
		"ph12":           "2 to 8",
		"ph0":            "ph3.4",
		"50bx":           "-5 to 45",
		"44.5bx":         "0.970 to 1.200", // allowed as Brix, not as a drink
		"34ml":           "unit",
		"soon":           "not understood",
		"1.034;bell\x07": "U+0007",
	} {
		t.Run("refuses "+text, func(t *testing.T) {
			_, err := ParseReading(text, 20)
			if !errors.Is(err, ErrInvalid) || !strings.Contains(err.Error(), says) {
				t.Errorf("ParseReading(%q): %v, want ErrInvalid that says %q", text, err, says)
			}
		})
	}
}

// Ensure that a reading is shown as short as it was typed.
func TestReading_String(t *testing.T) {
	for typed, want := range map[string]string{
		"1034":               "1.034",
		"1.001":              "1.001", // 1.001·1000 is not whole in binary
		"1.0345":             "1.0345",
		"1":                  "1.001",
		"8.5BX":              "8.5bx",
		"12.25p":             "12.25p",
		"43.2bx":             "43.2bx",
		"1.034 @70F":         "1.034 @21.1c",
		"1.034@21c ph=3.45":  "1.034 @21c ph3.45",
		"ph3.4 ;  still hot": "ph3.4 ; still hot",
	} {
		r, err := ParseReading(typed, 20)
		if err != nil || r.String() != want {
			t.Errorf("ParseReading(%q).String() = %q, %v, want %q", typed, r, err, want)
		}
	}
}

// Ensure that the correction is that of the instrument's own temperature. 1.040 at
// 30 °C on a 20 °C scale is 1.0427 (published hydrometer tables, ISO 1768 glass).
func TestReading_Corrected(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		cal  calc.Celsius
		want float64
	}{
		"warm sample":       {"1.040@30c", 20, 1.0427},
		"no temperature":    {"1.040", 20, 1.040},
		"at its own":        {"1.040@20c", 20, 1.040},
		"other calibration": {"1.08331", calc.CalibratedAt60F, 1.08293},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := ParseReading(c.text, c.cal)
			if err != nil {
				t.Fatal(err)
			}
			got, err := r.Corrected(0)
			if err != nil || !(math.Abs(float64(got)-c.want) < 0.0001) {
				t.Errorf("%q on a %v °C scale is %.5f, %v, want %.5f", c.text, c.cal, float64(got), err, c.want)
			}
		})
	}
}

// Ensure that parse, print, parse gives the same reading to the digits an
// instrument has, that nothing typed gives NaN, and that nothing panics.
func FuzzParseReading(f *testing.F) {
	for _, s := range []string{"1.034", "1034", "-2", "8.5bx", "43.2291bx", "12p@70f", "1,034 ph3.4 ; note; more", "@21c", "1.19999", "0.97003", "ph3", "\xff", "-0bx", "@-0c"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseReading(text, 20)
		if err != nil {
			if !errors.Is(err, ErrInvalid) {
				t.Errorf("ParseReading(%q): %v does not wrap ErrInvalid", text, err)
			}
			return
		}
		for _, x := range []float64{float64(r.Gravity), float64(r.Temperature), r.PH} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("ParseReading(%q) = %+v", text, r)
			}
		}
		again, err := ParseReading(r.String(), 20)
		if err != nil {
			t.Fatalf("%q prints as %q, which gives %v", text, r, err)
		}
		if math.Abs(float64(again.Gravity-r.Gravity)) > 0.5e-4+1e-9 || math.Abs(float64(again.Temperature-r.Temperature)) > 0.05+1e-9 ||
			again.PH != r.PH || again.Note != r.Note || again.Scale != scaleOf(r) || again.HasTemperature != r.HasTemperature {
			t.Errorf("%q is %+v, prints as %q and is then %+v", text, r, r, again)
		}
		if again.String() != r.String() {
			t.Errorf("%q prints as %q and then as %q", text, r, again)
		}
	})
}

// scaleOf returns the scale that is left once the reading is printed: the one it
// was read on, as long as there is a gravity.
func scaleOf(r Reading) GravityScale {
	if !r.HasGravity() {
		return ScaleSG
	}
	return r.Scale
}
