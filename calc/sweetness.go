package calc

// SweetnessBand is a word for how sweet a still drink is, by its sugar.
type SweetnessBand uint8

// The bands. Limits in g/L of sugar are those of EU 2019/33 Annex III part B
// for still wine, without the acidity clause; "off-dry" is the trade's word for
// what the law calls medium dry (common practice).
const (
	Dry    SweetnessBand = iota // to 4
	OffDry                      // above 4, to 12
	Medium                      // above 12, below 45
	Sweet                       // 45 and more
)

var sweetnessBands = [...]struct {
	name string
	from GramPerLitre
}{
	Dry:    {"dry", 0},
	OffDry: {"off-dry", 4},
	Medium: {"medium", 12},
	Sweet:  {"sweet", 45},
}

// BandOf returns the band that a still drink with c grams of sugar per litre
// falls in.
func BandOf(c GramPerLitre) SweetnessBand {
	switch {
	case c >= sweetnessBands[Sweet].from:
		return Sweet
	case c > sweetnessBands[Medium].from:
		return Medium
	case c > sweetnessBands[OffDry].from:
		return OffDry
	}
	return Dry
}

// SweetnessBands returns the bands from dry to sweet.
func SweetnessBands() []SweetnessBand { return []SweetnessBand{Dry, OffDry, Medium, Sweet} }

// String returns the word for the band.
func (b SweetnessBand) String() string {
	if int(b) >= len(sweetnessBands) {
		return "unknown band"
	}
	return sweetnessBands[b].name
}

// Sugar returns a sugar content well inside the band, to aim at: 2 g/L for dry,
// 8 for off-dry, 28.5 for medium, 60 for sweet.
func (b SweetnessBand) Sugar() GramPerLitre {
	switch {
	case int(b) >= len(sweetnessBands):
		return 0
	case b == Sweet:
		return 60
	}
	return (sweetnessBands[b].from + sweetnessBands[b+1].from) / 2
}
