package calc

// AcidSource is something in a must that brings acid, in figures of the tables.
type AcidSource struct {
	PKs     PKs  // of its main acid
	Acidity Span // titratable, in g/L of the must, as tartaric acid
	PH      PH   // of itself, at which that acidity was found; 0: that of the must
}

// BalanceGuess is the acid balance of a must reckoned from tables: every end of the
// tables' pH with every end of their acidity, and the middle of both.
type BalanceGuess struct {
	ends   []AcidBalance
	middle AcidBalance
}

// waterAlkali is what tap water holds of alkali, in mol/L: from that of rain to that of
// very hard water (from memory).
const waterAlkaliLow, waterAlkaliHigh = 0, 0.005

// buffersUpTo is the pH up to which a table's acidity says how much acid there is.
// Nearer to the end of a titration a little acidity would stand for any amount of salt
// [choice].
const buffersUpTo PH = 4.5

// GuessBalance returns the balance of a must whose pH lies in a span, usually at
// about, by what its sources bring. Without a pH it is water with what alkali a tap
// may bring. Ranges are those of [PKs.Holding] and [AcidBalance]; of what is outside all
// that the guess tells is NaN.
func GuessBalance(ph Span, about PH, sources []AcidSource) BalanceGuess {
	var g BalanceGuess
	balance := func(p PH, alkali, share float64) AcidBalance {
		var b AcidBalance
		for _, s := range sources {
			ta := s.Acidity.Low + share*(s.Acidity.High-s.Acidity.Low)
			at := s.PH
			if at == 0 {
				at = about
			}
			b = b.Plus(s.PKs, s.PKs.Holding(Acidity(ta), min(at, buffersUpTo)))
		}
		if !ph.Known() {
			return b.PlusAlkali(alkali)
		}
		return b.At(p)
	}
	for _, share := range []float64{0, 1} {
		g.ends = append(g.ends, balance(PH(ph.Low), waterAlkaliLow, share), balance(PH(ph.High), waterAlkaliHigh, share))
	}
	g.middle = balance(about, (waterAlkaliLow+waterAlkaliHigh)/2, 0.5)
	return g
}

// Plus returns the guess with moles of an acid in each litre.
func (g BalanceGuess) Plus(k PKs, moles float64) BalanceGuess {
	return g.each(func(b AcidBalance) AcidBalance { return b.Plus(k, moles) })
}

// PlusAlkali returns the guess with moles of alkali in each litre.
func (g BalanceGuess) PlusAlkali(moles float64) BalanceGuess {
	return g.each(func(b AcidBalance) AcidBalance { return b.PlusAlkali(moles) })
}

func (g BalanceGuess) each(change func(AcidBalance) AcidBalance) BalanceGuess {
	out := BalanceGuess{middle: change(g.middle)}
	for _, b := range g.ends {
		out.ends = append(out.ends, change(b))
	}
	return out
}

// PH returns the span in which the pH may lie, and its middle by the tables.
func (g BalanceGuess) PH() (Span, PH) {
	return g.span(func(b AcidBalance) float64 { return float64(b.PH()) }), g.middle.PH()
}

// Acidity returns the same of the titratable acidity.
func (g BalanceGuess) Acidity() (Span, Acidity) {
	return g.span(func(b AcidBalance) float64 { return float64(b.Acidity()) }), g.middle.Acidity()
}

func (g BalanceGuess) span(of func(AcidBalance) float64) Span {
	var s Span
	for i, b := range append([]AcidBalance{g.middle}, g.ends...) {
		x := of(b)
		if i == 0 {
			s = Span{x, x}
		}
		s = Span{min(s.Low, x), max(s.High, x)}
	}
	return s
}

// Buffer returns the span of the moles of alkali that raise the pH of a litre by one.
func (g BalanceGuess) Buffer() Span { return g.span(AcidBalance.Buffer) }
