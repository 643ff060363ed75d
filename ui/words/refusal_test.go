package words

import (
	"errors"
	"fmt"
	"testing"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Ensure that a complaint ends with what to do, not with the kind of error.
func TestPlainError(t *testing.T) {
	_, noUnit := model.ParseVolume("19")
	for want, err := range map[string]error{
		`volume "19" has no unit; write 19L or 19gal`: noUnit,
		"water at 200 °C":                             fmt.Errorf("water at 200 °C: %w", calc.ErrOutOfRange),
		"gravity 3 with honey":                        fmt.Errorf("gravity 3 with honey: %w", calc.ErrUnreachable),
		"strength":                                    fmt.Errorf("strength: %w", calc.ErrNotANumber),
		"reading of 1.9":                              fmt.Errorf("%w: %w", fmt.Errorf("reading of 1.9: %w", calc.ErrOutOfRange), model.ErrInvalid),
		"locked by another one":                       errors.New("locked by another one"),
		"not accepted: say why":                       errors.New("not accepted: say why"),
		model.ErrInvalid.Error():                      model.ErrInvalid,
		"open cellar: disk is ill":                    fmt.Errorf("open cellar: %w", errors.New("disk is ill")),
	} {
		if got := PlainError(err); got != want {
			t.Errorf("PlainError(%q) = %q, want %q", err, got, want)
		}
	}
}
