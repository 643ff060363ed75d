package cli

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"time"
	"unicode"

	"cellar.local/glassrow/calc"
)

// significantDigits of a number in JSON: more than any instrument has, and few
// enough to hide the rounding of binary fractions.
const significantDigits = 7

// leastNumber is what the rounding of binary fractions may leave of nothing.
const leastNumber = 1e-10

// number is a figure of a script's answer. What is not a number is null.
type number float64

// MarshalJSON implements json.Marshaler.
func (n number) MarshalJSON() ([]byte, error) {
	x := float64(n)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return []byte("null"), nil
	}
	x, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', significantDigits, 64), 64)
	if err != nil || math.Abs(x) < leastNumber { // and never -0
		return []byte("0"), nil
	}
	return strconv.AppendFloat(nil, x, 'f', -1, 64), nil
}

// known returns a figure of which zero means that nobody knows it.
func known[T ~float64](x T) *number {
	if x == 0 {
		return nil
	}
	return figure(x)
}

func figure[T ~float64](x T) *number {
	n := number(x)
	return &n
}

// stamp is a time in JSON, RFC 3339 in UTC; never is null.
type stamp time.Time

// MarshalJSON implements json.Marshaler.
func (s stamp) MarshalJSON() ([]byte, error) {
	t := time.Time(s)
	if t.IsZero() {
		return []byte("null"), nil
	}
	return []byte(strconv.Quote(t.UTC().Format(time.RFC3339))), nil
}

// showJSON prints v as one object on one line.
func (a *app) showJSON(v any) error {
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	return a.show(escapeUnprintable(buf.String()))
}

// escapeUnprintable replaces what a terminal might obey instead of showing, above
// all the controls from U+0080 up, which JSON itself lets through. In JSON the
// escape means the same letter, so nothing is lost.
func escapeUnprintable(s string) string {
	var out []byte
	for _, r := range s {
		switch {
		case r == '\n' || unicode.IsPrint(r):
			out = append(out, string(r)...)
		case r > 0xffff:
			r -= 0x10000
			out = fmt.Appendf(out, `\u%04x\u%04x`, 0xd800+(r>>10), 0xdc00+(r&0x3ff))
		default:
			out = fmt.Appendf(out, `\u%04x`, r)
		}
	}
	return string(out)
}

// figuresJSON are the figures of a liquid that the sweetening commands tell.
type figuresJSON struct {
	SG            number `json:"sg"`
	Volume        number `json:"volume_l"`
	ABV           number `json:"abv_pct"`
	ResidualSugar number `json:"residual_sugar_g_l"`
	Sweetness     number `json:"sweetness_g_l"`
	Band          string `json:"band"`
}

func newFiguresJSON(f calc.Figures) figuresJSON {
	return figuresJSON{
		SG: number(f.SG), Volume: number(f.Volume), ABV: number(f.Strength),
		ResidualSugar: number(f.Sugar), Sweetness: number(f.Sweetness), Band: calc.BandOf(f.Sugar).String(),
	}
}
