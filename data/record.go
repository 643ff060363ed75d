package data

import (
	"encoding/json"
	"math"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// What lies on disk: small structs of our own with frozen field names, so that a
// rename in package model cannot corrupt a file. Quantities are SI; times are
// UTC to the nanosecond.

type settingsRecord struct {
	CellarName  string  `json:"cellar_name,omitempty"`
	US          bool    `json:"us,omitempty"`
	Calibration float64 `json:"calibration_c,omitempty"`

	Prices map[string]float64 `json:"prices_per_kg,omitempty"` // by sweetener id
}

type vesselRecord struct {
	Label    string    `json:"label"`
	Kind     string    `json:"kind"`
	Capacity float64   `json:"capacity_l"`
	Place    string    `json:"place,omitempty"`
	Tare     float64   `json:"tare_g,omitempty"`
	Added    time.Time `json:"added"`
}

type batchRecord struct {
	Name  string `json:"name"`
	Drink string `json:"drink"`
}

type entryRecord struct {
	At       time.Time       `json:"at"`
	Recorded time.Time       `json:"recorded"`
	Deed     uint64          `json:"deed,omitempty"`
	Kind     string          `json:"kind"`
	Body     json.RawMessage `json:"body"`
}

type portionRecord struct {
	Name  string             `json:"name"`
	Mass  float64            `json:"mass_g"`
	Parts map[string]float64 `json:"parts"` // share of each component by mass
}

type mustRecord struct {
	Vessel      uint64          `json:"vessel"`
	Volume      float64         `json:"volume_l"`
	Gravity     float64         `json:"gravity,omitempty"`
	Ingredients []portionRecord `json:"ingredients,omitempty"`
	Fruit       []fruitRecord   `json:"fruit,omitempty"`
}

type pitchRecord struct {
	Yeast     string  `json:"yeast"`
	Name      string  `json:"name,omitempty"`
	Tolerance float64 `json:"tolerance_pct_vol,omitempty"`
}

type readingRecord struct {
	Gravity     float64  `json:"gravity,omitempty"`
	Scale       string   `json:"scale,omitempty"`
	Calibration float64  `json:"calibration_c,omitempty"`
	Temperature *float64 `json:"temperature_c,omitempty"`
	PH          float64  `json:"ph,omitempty"`
	Acid        float64  `json:"acid_g_l,omitempty"`
	FreeSO2     *float64 `json:"free_so2_mg_l,omitempty"`
	Mass        float64  `json:"mass_g,omitempty"`
	Level       float64  `json:"level_l,omitempty"`
	Note        string   `json:"note,omitempty"`
}

type additionRecord struct {
	Portion portionRecord `json:"portion"`
	Purpose string        `json:"purpose,omitempty"`
	Plan    uint64        `json:"plan,omitempty"`
	Dose    int           `json:"dose,omitempty"`
}

type rackRecord struct {
	To     uint64  `json:"to"`
	Volume float64 `json:"volume_l,omitempty"`
}

type bottleRecord struct {
	Count   int     `json:"count"`
	Size    float64 `json:"size_l"`
	Rest    bool    `json:"rest,omitempty"`
	Closure string  `json:"closure,omitempty"`
}

type stabiliseRecord struct {
	Sulfite  float64 `json:"sulfite_g,omitempty"`
	Sorbate  float64 `json:"sorbate_g,omitempty"`
	Filtered bool    `json:"filtered,omitempty"`
	PU       float64 `json:"pu,omitempty"`
	Chilled  bool    `json:"chilled,omitempty"`
}

type benchRecord struct {
	Glass  float64         `json:"glass_l"`
	Poured []portionRecord `json:"poured"`
	Syrup  float64         `json:"syrup_g_l,omitempty"`
	Seed   uint64          `json:"seed,omitempty"`
}

type tastingRecord struct {
	Bench   uint64        `json:"bench"`
	Glasses []tasteRecord `json:"glasses"`
}

type tasteRecord struct {
	Mark  *float64 `json:"mark,omitempty"`
	Words string   `json:"words,omitempty"`
}

type noteRecord struct {
	Text string `json:"text"`
}

type voidRecord struct {
	Entry  uint64 `json:"entry"`
	Reason string `json:"reason,omitempty"`
}

// summaryRecord is the shelf's line of a batch. It can be thrown away: the
// journal makes it again.
type summaryRecord struct {
	Name        string    `json:"name"`
	Drink       string    `json:"drink"`
	Vessel      uint64    `json:"vessel,omitempty"`
	Standing    string    `json:"standing,omitempty"`
	Evidence    []string  `json:"evidence,omitempty"`
	RuledOut    []string  `json:"ruled_out,omitempty"`
	Check       string    `json:"check,omitempty"`
	Decides     time.Time `json:"decides,omitzero"`
	Trouble     bool      `json:"trouble,omitempty"`
	Problem     string    `json:"problem,omitempty"`
	Started     time.Time `json:"started,omitzero"`
	Pitched     time.Time `json:"pitched,omitzero"`
	LastReading time.Time `json:"last_reading,omitzero"`
	Entries     int       `json:"entries"`
	Bottles     int       `json:"bottles,omitempty"`
	Original    float64   `json:"original,omitempty"`
	SG          float64   `json:"sg,omitempty"`
	Strength    float64   `json:"strength_pct_vol"`
	PlusMinus   float64   `json:"plus_minus_pct_vol,omitempty"`
	Volume      float64   `json:"volume_l"`
	LateSugar   float64   `json:"late_sugar_g,omitempty"`
	FruitRoom   float64   `json:"fruit_l,omitempty"`
	WeighedAt   time.Time `json:"weighed_at,omitzero"`
	WeighedNet  float64   `json:"weighed_g,omitempty"` // vessel and drink, less the yeast
	WeighedSG   float64   `json:"weighed_sg,omitempty"`
	Sketch      []int     `json:"sketch,omitempty"` // gravity in hundred-thousandths

	Dues     []dueRecord     `json:"dues"` // null: kept before there were any
	Forecast *forecastRecord `json:"forecast,omitempty"`
}

// dueRecord is something due.
type dueRecord struct {
	Key     string    `json:"key"`
	What    string    `json:"what"`
	At      time.Time `json:"at"`
	Because string    `json:"because,omitempty"`
	Room    bool      `json:"room,omitempty"`
}

// forecastRecord is an outlook as far as the shelf and scripts tell it.
type forecastRecord struct {
	Known      bool      `json:"known"`
	Why        string    `json:"why,omitempty"`
	FG         float64   `json:"fg,omitempty"`
	FGLow      float64   `json:"fg_low,omitempty"`
	FGHigh     float64   `json:"fg_high,omitempty"`
	Finish     time.Time `json:"finish,omitzero"`
	FinishLow  time.Time `json:"finish_low,omitzero"`
	FinishHigh time.Time `json:"finish_high,omitzero"`
}

const sketchUnit = 1e5

func toSettings(r settingsRecord) model.Settings {
	return model.Settings{CellarName: r.CellarName, US: r.US, Calibration: calc.Celsius(r.Calibration), Prices: r.Prices}
}

func fromSettings(s model.Settings) settingsRecord {
	return settingsRecord{CellarName: s.CellarName, US: s.US, Calibration: float64(s.Calibration), Prices: s.Prices}
}

func toVessel(id model.VesselID, r vesselRecord) model.Vessel {
	return model.Vessel{ID: id, Label: r.Label, Kind: model.VesselKind(r.Kind), Capacity: calc.Litre(r.Capacity),
		Place: r.Place, Tare: calc.Gram(r.Tare), Added: r.Added}
}

func fromVessel(v model.Vessel) vesselRecord {
	return vesselRecord{Label: v.Label, Kind: string(v.Kind), Capacity: float64(v.Capacity),
		Place: v.Place, Tare: float64(v.Tare), Added: v.Added.UTC()}
}

func fromPortion(p model.Portion) portionRecord {
	return portionRecord{Name: p.Ingredient.Name, Mass: float64(p.Mass), Parts: fromLiquid(p.Ingredient.PerGram)}
}

func toPortion(r portionRecord) (model.Portion, error) {
	perGram, err := toLiquid(r.Name, r.Parts)
	if err != nil {
		return model.Portion{}, err
	}
	return model.Portion{Ingredient: calc.Ingredient{Name: r.Name, PerGram: perGram}, Mass: calc.Gram(r.Mass)}, nil
}

func fromSummary(s model.Summary) summaryRecord {
	sketch := make([]int, len(s.Sketch))
	for i, sg := range s.Sketch {
		sketch[i] = int(math.Round(float64(sg) * sketchUnit))
	}
	return summaryRecord{
		RuledOut: s.RuledOut, Check: s.Check, Decides: s.Decides, Forecast: fromOutlook(s.Outlook),
		Name: s.Name, Drink: string(s.Drink), Vessel: uint64(s.Vessel), Standing: string(s.Standing),
		Evidence: s.Evidence, Trouble: s.Trouble, Problem: s.Problem, Started: s.Started, Pitched: s.Pitched,
		LastReading: s.LastReading, Entries: s.Entries, Bottles: s.Bottles, Original: float64(s.Original),
		SG: float64(s.SG), Strength: float64(s.Strength), PlusMinus: float64(s.PlusMinus),
		Volume: float64(s.Volume), LateSugar: float64(s.LateSugar), FruitRoom: float64(s.FruitRoom), Sketch: sketch,
		WeighedAt: s.Weighed.At.UTC(), WeighedNet: float64(s.Weighed.Net), WeighedSG: float64(s.Weighed.SG),
		Dues: fromDues(s.Dues),
	}
}

func toSummary(id model.BatchID, r summaryRecord) model.Summary {
	sketch := make([]calc.SG, len(r.Sketch))
	for i, n := range r.Sketch {
		sketch[i] = calc.SG(float64(n) / sketchUnit)
	}
	return model.Summary{
		RuledOut: r.RuledOut, Check: r.Check, Decides: r.Decides, Outlook: toOutlook(r.Forecast),
		Batch: id, Name: r.Name, Drink: model.Drink(r.Drink), Vessel: model.VesselID(r.Vessel),
		Standing: model.Standing(r.Standing), Evidence: r.Evidence, Trouble: r.Trouble, Problem: r.Problem,
		Started: r.Started, Pitched: r.Pitched, LastReading: r.LastReading, Entries: r.Entries, Bottles: r.Bottles,
		Original: calc.SG(r.Original), SG: calc.SG(r.SG), Strength: calc.PercentVol(r.Strength),
		PlusMinus: calc.PercentVol(r.PlusMinus), Volume: calc.Litre(r.Volume), LateSugar: calc.Gram(r.LateSugar), FruitRoom: calc.Litre(r.FruitRoom), Sketch: sketch,
		Weighed: model.WeighedNow{At: r.WeighedAt, Net: calc.Gram(r.WeighedNet), SG: calc.SG(r.WeighedSG)},
		Dues:    toDues(r.Dues),
	}
}

func fromDues(dues []model.Due) []dueRecord {
	out := make([]dueRecord, len(dues))
	for i, d := range dues {
		out[i] = dueRecord{d.Key, d.What, d.At.UTC(), d.Because, d.Room}
	}
	return out
}

// toDues returns nil for a record that has none because nobody kept them.
func toDues(records []dueRecord) []model.Due {
	if records == nil {
		return nil
	}
	out := make([]model.Due, len(records))
	for i, r := range records {
		out[i] = model.Due{Key: r.Key, What: r.What, At: r.At, Because: r.Because, Room: r.Room}
	}
	return out
}

func fromOutlook(o *model.Outlook) *forecastRecord {
	if o == nil {
		return nil
	}
	return &forecastRecord{
		Known: o.Known, Why: o.Why,
		FG: float64(o.Final.Median), FGLow: float64(o.Final.Low), FGHigh: float64(o.Final.High),
		Finish: o.Finish.Median.UTC(), FinishLow: o.Finish.Low.UTC(), FinishHigh: o.Finish.High.UTC(),
	}
}

func toOutlook(r *forecastRecord) *model.Outlook {
	if r == nil {
		return nil
	}
	return &model.Outlook{
		Known: r.Known, Why: r.Why,
		Final:  calc.Band[calc.SG]{Low: calc.SG(r.FGLow), Median: calc.SG(r.FG), High: calc.SG(r.FGHigh)},
		Finish: model.Finish{Low: r.FinishLow, Median: r.Finish, High: r.FinishHigh},
	}
}
