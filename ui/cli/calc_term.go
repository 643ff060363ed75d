package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/calc"
)

func (a *app) calcTermCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "term",
		Short: "what the law calls a drink with so much sugar",
		Long: `Tell the driest word that a law allows a seller to put on a label for so much sugar,
glucose and fructose together. In still wine acid hides sugar, so with --acid, the
total acidity as tartaric acid, more may be dry.`,
		Example: `  glassrow calc term --sugar 8.5 --acid 7.0 --rule eu-still
  glassrow calc term --sugar 14 --rule eu-sparkling`,
		Args: takes(0, 0, "no more"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.calcTerm(cmd) },
	}
	cmd.Flags().String("sugar", "", "sugar in `GRAMS` per litre")
	cmd.Flags().String("acid", "", "total acidity in `GRAMS` per litre as tartaric acid; without it none is counted")
	cmd.Flags().String("rule", "", "`RULE`: eu-still, eu-sparkling or oiv-still")
	completeWords(cmd, "rule", calc.TermRules())
	return cmd
}

func (a *app) calcTerm(cmd *cobra.Command) error {
	if err := need(cmd, "sugar", "rule"); err != nil {
		return err
	}
	sugar, err := parseNumber(text(cmd, "sugar"), "sugar", "g/l")
	if err != nil {
		return err
	}
	acid := 0.0
	if cmd.Flags().Changed("acid") {
		if acid, err = parseNumber(text(cmd, "acid"), "acid", "g/l"); err != nil {
			return err
		}
	}
	term, err := calc.Term(word[calc.TermRule](text(cmd, "rule")), calc.GramPerLitre(sugar), calc.GramPerLitre(acid))
	if err != nil {
		return err
	}
	name := term.Name
	if len(term.Also) > 0 {
		name += fmt.Sprintf(" (also %s)", strings.Join(term.Also, ", "))
	}
	return a.answer(cmd, struct {
		Term string `json:"term"`
	}{term.Name}, name, "For wine on a label; other drinks and places have rules of their own: check yours.")
}
