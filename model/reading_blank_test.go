package model

import (
	"strings"
	"testing"
)

// Ensure that a blank within a part, as a phone puts one, changes nothing, and that what
// is no gravity is told as what it is.
func TestParseReading_BlanksWithin(t *testing.T) {
	for typed, want := range map[string]string{
		"1.034 @ 21 c ph 3.4": "1.034 @21c ph3.4", "8.5 bx @70 f": "8.5bx @21.1c", "24.6 kg 18.5 L": "24.6kg 18.5l",
		"1.034 ta 6.2 so2 25": "1.034 ta6.2 so2=25", "pH = 3.4": "", "34 so2= 20": "1.034 so2=20", "ta6.2 34": "1.034 ta6.2",
	} {
		got, err := ParseReading(typed, DefaultCalibration)
		if want == "" {
			if err == nil {
				t.Errorf("%q is understood as %v", typed, got)
			}
			continue
		}
		if err != nil || got.String() != want {
			t.Errorf("ParseReading(%q) = %v, %v, want %s", typed, got, err, want)
		}
	}
	for typed, want := range map[string]string{
		"5bx 20c": "written @20c", "1.034 70 f": "written @70f", "1.340": "cannot be", "18.5": "could be Brix", "1.5": "could be Brix", "so225": "so2=25",
		"so2": "so2=25", "1.034 1.035": "second gravity",
	} {
		if _, err := ParseReading(typed, DefaultCalibration); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseReading(%q) says %v, want %q", typed, err, want)
		}
	}
}
