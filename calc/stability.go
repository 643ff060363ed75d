package calc

// Stability says how well a drink will keep its sugar.
type Stability uint8

// From worst to best; the zero value is the careful one.
const (
	StabilityLive   Stability = iota // yeast can ferment this sugar: in a closed bottle, a burst one
	StabilityRisky                   // something hinders the yeast, and is known not to be enough
	StabilityLikely                  // should hold: one thing short of the rule, or only as long as it is kept cold
	StabilitySafe                    // one of the ways that count as stable enough
)

var stabilityWords = [...]string{
	StabilityLive: "live", StabilityRisky: "risky", StabilityLikely: "likely", StabilitySafe: "safe",
}

// String returns the word for it.
func (s Stability) String() string {
	if int(s) >= len(stabilityWords) {
		return "unknown stability"
	}
	return stabilityWords[s]
}

// StabilityReason is one thing that keeps yeast from sugar, or fails to.
type StabilityReason string

// The reasons. [Stabilised] says what each is worth.
const (
	BecauseNoSugar StabilityReason = "no-sugar" // too little to matter

	BecauseFiltered StabilityReason = "sterile-filtered"

	BecauseHeated      StabilityReason = "heated"       // HeatCarefulLow and more
	BecauseHeatedFloor StabilityReason = "heated-floor" // HeatFloor and more
	BecauseHeatedShort StabilityReason = "heated-short" // what a beer gets: not enough where there is sugar

	BecauseFortified    StabilityReason = "fortified"     // clearly above what the yeast bears
	BecauseAboveLimit   StabilityReason = "above-limit"   // of the yeast, as clearly, but not fortified
	BecauseNearLimit    StabilityReason = "near-limit"    // which is no cliff
	BecauseLimitUnknown StabilityReason = "limit-unknown" // nobody said which yeast

	BecauseSulfiteAndSorbate StabilityReason = "sulfite-and-sorbate"
	BecauseBeyondTable       StabilityReason = "beyond-sorbate-table" // weaker or less acid than it goes
	BecauseSulfiteLow        StabilityReason = "sulfite-low"          // beside sorbate: as for a red
	BecauseSorbateShort      StabilityReason = "sorbate-short"        // of what the table asks
	BecauseCloudy            StabilityReason = "cloudy"               // too many cells for sorbate
	BecauseSorbateAlone      StabilityReason = "sorbate-alone"        // and lactic bacteria may spoil it
	BecauseSulfiteAlone      StabilityReason = "sulfite-alone"
	BecauseStillFermenting   StabilityReason = "still-fermenting" // which no sulfite or sorbate ends

	BecauseCold StabilityReason = "cold" // as long as it lasts
)

// Finding is a reason and what it would be worth if it were the only one.
type Finding struct {
	Reason StabilityReason
	Worth  Stability
}

// Assessment is a verdict and everything that speaks to it, what weighs most first.
// Without any finding, nothing keeps the yeast from the sugar.
type Assessment struct {
	Verdict  Stability
	Findings []Finding
}

// Held returns what keeps the yeast from the sugar, when there is something that does:
// the finding that weighs most, of those that are likely to hold or better. That there
// is too little sugar is none of them, for more may come.
func (a Assessment) Held() (Finding, bool) {
	for _, f := range a.Findings {
		if f.Worth >= StabilityLikely && f.Reason != BecauseNoSugar {
			return f, true
		}
	}
	return Finding{}, false
}

// Protection is what will stand between yeast and sugar. The zero value of a field is
// no protection, or not known.
type Protection struct {
	Fermentable GramPerLitre // sugar this yeast could take: what is to be added, and what it left for want of time
	Finished    bool         // gravity has stood still long enough
	Clear       bool         // racked off its yeast and bright

	ABV       PercentVol // once sweetened
	Tolerance PercentVol // the yeast's usual limit; 0: not known

	PH        PH                // 0: not measured
	Molecular MilligramPerLitre // molecular SO2, see MolecularSO2
	Sorbate   MilligramPerLitre // potassium sorbate

	SterileFiltered bool // below 0.45 µm, into clean bottles
	Heat            PU   // in the package
	KeptCold        bool // from now to the glass, in a keg that bears pressure, and drunk soon
}
