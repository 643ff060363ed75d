package cli

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// aimFlags defines the ways to say how much of a sweetener.
func (a *app) aimFlags(cmd *cobra.Command) {
	cmd.Flags().String("with", "", "`NAME` of the sweetener in the handbook")
	cmd.Flags().String("amount", "", "so much of it, as 300g or 2lb")
	cmd.Flags().String("to", "", "until this `TARGET`: a gravity as 1.012, \"taste 30\", off-dry, brut")
	cmd.Flags().String("sugar", "", "until so many `GRAMS` of sugar are in a litre, as 25")
	_ = cmd.RegisterFlagCompletionFunc("with", a.completeSweetener)
}

// aim returns the sweetener and the aim that the flags name.
func (a *app) aim(cmd *cobra.Command) (model.Sweetener, model.Aim, error) {
	if err := need(cmd, "with"); err != nil {
		return model.Sweetener{}, model.Aim{}, err
	}
	sw, err := model.NamedSweetener(a.Sweeteners, text(cmd, "with"))
	if err != nil {
		return sw, model.Aim{}, err
	}
	flag, err := oneOf(cmd, "amount", "to", "sugar")
	if err != nil {
		return sw, model.Aim{}, err
	}
	aim, err := parseAim(flag, text(cmd, flag))
	return sw, aim, err
}

func parseAim(flag, typed string) (model.Aim, error) {
	switch flag {
	case "amount":
		mass, err := model.ParseMass(typed)
		return model.Aim{Mass: mass}, err
	case "to":
		return parseTarget(typed)
	}
	x, err := parseNumber(typed, "sugar", "g/l")
	if err == nil && !(x >= 0 && x <= 500) {
		err = fmt.Errorf("sugar %q is outside 0 to 500 g/L: %w", typed, model.ErrInvalid)
	}
	t := calc.TargetSugar(calc.GramPerLitre(x))
	return model.Aim{Target: &t}, err
}

// parseTarget understands a gravity on any scale, or what the planner takes for a target.
func parseTarget(typed string) (model.Aim, error) {
	aim, err := model.ParseAim(typed)
	if err == nil && aim.Target != nil {
		return aim, nil
	}
	if err == nil {
		return aim, fmt.Errorf("%q is an amount, and --to says what to reach; write it after --amount: %w", typed, model.ErrInvalid)
	}
	sg, notGravity := model.ParseGravity(typed)
	if notGravity != nil {
		if typed == "" || strings.ContainsAny(typed[:1], "0123456789.-") {
			return model.Aim{}, notGravity
		}
		return model.Aim{}, err
	}
	t := calc.TargetSG(sg)
	return model.Aim{Target: &t, Text: strconv.FormatFloat(float64(sg), 'f', 4, 64)}, nil
}
