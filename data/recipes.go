package data

import (
	"encoding/json"
	"fmt"
	"slices"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// recipesBucket holds the person's own recipes: name -> recipeRecord. Like plansBucket
// it is made with the first of them.
var recipesBucket = []byte("recipes")

type recipeRecord struct {
	Name      string       `json:"name"`
	Drink     string       `json:"drink"`
	Items     []itemRecord `json:"items"`
	Water     float64      `json:"water_g,omitempty"`
	WaterAim  string       `json:"water_aim,omitempty"` // in words that model.ParseWish understands
	Fill      float64      `json:"fill_l,omitempty"`
	Yeast     string       `json:"yeast,omitempty"`
	Tolerance float64      `json:"tolerance_pct_vol,omitempty"`
	Doses     int          `json:"doses,omitempty"`
	Last      float64      `json:"last_mark,omitempty"`

	Nutrient *nutrientRecord `json:"nutrient,omitempty"`
}

// nutrientRecord is what the yeast is fed with, and what it was when the recipe was kept.
type nutrientRecord struct {
	Name     string  `json:"name"`
	Nitrogen float64 `json:"nitrogen_mg_g"`
	Most     float64 `json:"most_g_l,omitempty"`
	Mass     float64 `json:"mass_g"`
	Missing  bool    `json:"missing,omitempty"`
	Split    string  `json:"split"`
}

// souringRecord is what a gram of an acid or a carbonate does to the pH.
type souringRecord struct {
	PKs    []float64 `json:"pk,omitempty"`
	Moles  float64   `json:"mol_g,omitempty"`
	Alkali float64   `json:"alkali_mol_g,omitempty"`
}

// itemRecord is an ingredient, and what it was made of when the recipe was kept. One of
// Sweetener and Fruit is there, with the mass.
type itemRecord struct {
	ID        string         `json:"id"`
	Sweetener *portionRecord `json:"sweetener,omitempty"`
	Fruit     *fruitRecord   `json:"fruit,omitempty"`
	Aim       string         `json:"aim,omitempty"` // as WaterAim
	Held      float64        `json:"held,omitempty"`
	Sour      *souringRecord `json:"sour,omitempty"`
}

// Recipes returns the person's recipes, by name.
func (s *Store) Recipes() ([]model.Recipe, error) {
	var recipes []model.Recipe
	err := s.file.view(func(tx *bbolt.Tx) error {
		recipes = nil
		b := tx.Bucket(recipesBucket)
		if b == nil {
			return nil
		}
		return b.ForEach(func(k, v []byte) error {
			var r recipeRecord
			if err := unmarshal(recipesBucket, k, v, &r); err != nil {
				return err
			}
			recipe, err := toRecipe(r)
			if err != nil {
				return fmt.Errorf("%w: recipe %q: %w", ErrDamaged, r.Name, err)
			}
			recipes = append(recipes, recipe)
			return nil
		})
	})
	return recipes, err
}

// KeepRecipe keeps a recipe under its name; one of the same name is replaced.
func (s *Store) KeepRecipe(r model.Recipe) error {
	if err := r.Validate(); err != nil {
		return err
	}
	return s.file.update(func(tx *bbolt.Tx) error {
		b, err := tx.CreateBucketIfNotExists(recipesBucket)
		if err != nil {
			return err
		}
		record, err := json.Marshal(fromRecipe(r))
		if err != nil {
			return err
		}
		return b.Put([]byte(r.Name), record)
	})
}

// DropRecipe discards the recipe of that name without trace. There need not be one.
func (s *Store) DropRecipe(name string) error {
	return s.file.update(func(tx *bbolt.Tx) error {
		b := tx.Bucket(recipesBucket)
		if b == nil || name == "" {
			return nil
		}
		return b.Delete([]byte(name))
	})
}

func fromRecipe(r model.Recipe) recipeRecord {
	out := recipeRecord{
		Name: r.Name, Drink: string(r.Drink), Water: float64(r.Water), WaterAim: r.WaterAim.Text(), Fill: float64(r.Fill),
		Yeast: string(r.Yeast), Tolerance: float64(r.Tolerance), Doses: r.Doses, Last: float64(r.Last),
	}
	if n := r.Nutrient; n.Set() {
		out.Nutrient = &nutrientRecord{n.Name, n.Nitrogen, float64(n.Most), float64(n.Mass), n.Missing, string(n.Split)}
	}
	for _, i := range r.Items {
		item := itemRecord{ID: i.Stuff.ID(), Aim: i.Aim.Text(), Held: i.Held}
		if i.Stuff.IsFruit() {
			f := fromFruit(i.FruitPortion())
			item.Fruit = &f
		} else {
			p := fromPortion(model.Portion{Ingredient: i.Stuff.Sweetener.Ingredient, Mass: i.Mass})
			item.Sweetener = &p
		}
		if s := i.Stuff.Sour; i.Stuff.IsAcid() {
			item.Sour = &souringRecord{PKs: slices.DeleteFunc(slices.Clone(s.PKs[:]), func(pk float64) bool { return pk == 0 }), Moles: s.Moles, Alkali: s.Alkali}
		}
		out.Items = append(out.Items, item)
	}
	return out
}

func toRecipe(r recipeRecord) (model.Recipe, error) {
	out := model.Recipe{
		Name: r.Name, Drink: model.Drink(r.Drink), Water: calc.Gram(r.Water), Fill: calc.Litre(r.Fill),
		Yeast: model.YeastGroup(r.Yeast), Tolerance: calc.PercentVol(r.Tolerance), Doses: r.Doses, Last: calc.SG(r.Last),
	}
	if n := r.Nutrient; n != nil {
		out.Nutrient = model.RecipeNutrient{Name: n.Name, Nitrogen: n.Nitrogen, Most: calc.GramPerLitre(n.Most), Mass: calc.Gram(n.Mass),
			Missing: n.Missing, Split: calc.FeedSplit(n.Split)}
	}
	var err error
	if out.WaterAim, err = toMustAim(r.WaterAim); err != nil {
		return out, err
	}
	for _, item := range r.Items {
		i, err := toItem(item)
		if err != nil {
			return out, err
		}
		out.Items = append(out.Items, i)
	}
	return out, out.Validate()
}

func toItem(r itemRecord) (model.RecipeItem, error) {
	i := model.RecipeItem{Held: r.Held}
	var err error
	if i.Aim, err = toMustAim(r.Aim); err != nil {
		return i, err
	}
	switch {
	case r.Fruit != nil:
		p, err := toFruit(*r.Fruit)
		if err != nil {
			return i, err
		}
		i.Stuff.Fruit = model.Fruit{ID: r.ID, Fruit: p.Fruit}
		i.Mass, i.Prepared, i.Crushed = p.Mass, p.Prepared, p.Crushed
	case r.Sweetener != nil:
		p, err := toPortion(*r.Sweetener)
		if err != nil {
			return i, err
		}
		i.Stuff.Sweetener = model.Sweetener{ID: r.ID, Ingredient: p.Ingredient}
		i.Mass = p.Mass
		if s := r.Sour; s != nil {
			i.Stuff.Sour = model.Souring{Moles: s.Moles, Alkali: s.Alkali}
			copy(i.Stuff.Sour.PKs[:], s.PKs)
		}
	default:
		return i, fmt.Errorf("%s is neither fruit nor sweetener", r.ID)
	}
	return i, nil
}

func toMustAim(text string) (model.MustAim, error) {
	if text == "" {
		return model.MustAim{}, nil
	}
	w, err := model.ParseWish(text)
	return w.Aim, err
}
