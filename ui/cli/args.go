package cli

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"cellar.local/glassrow/model"
)

// noSuchCommand refuses a word where only commands can stand, and says which one
// was meant, if any.
func noSuchCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
		return fmt.Errorf("%q is no command; did you mean %s %s?", args[0], cmd.CommandPath(), near[0])
	}
	return fmt.Errorf("%q is no command; %s --help lists them", args[0], cmd.CommandPath())
}

// parent returns a command that only holds others.
func parent(use, short, long string) *cobra.Command {
	return &cobra.Command{
		Use: use, Short: short, Long: long,
		Args:                       noSuchCommand,
		RunE:                       func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
		SuggestionsMinimumDistance: 2,
	}
}

// takes checks the number of arguments; most below zero means any number.
func takes(least, most int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < least {
			return fmt.Errorf("%s needs %s, as in: %s", called(cmd), what, example(cmd))
		}
		if most >= 0 && len(args) > most {
			return fmt.Errorf("%s does not know what to do with %q; write it as in: %s", called(cmd), args[most], example(cmd))
		}
		return nil
	}
}

// takesWords marks a command that has others under it and takes words of its own.
const takesWords = "takes-words"

// called returns what the command is called within the program: vessel add.
func called(cmd *cobra.Command) string {
	return strings.TrimPrefix(cmd.CommandPath(), cmd.Root().Name()+" ")
}

// example returns the first example of a command's help.
func example(cmd *cobra.Command) string {
	first, _, _ := strings.Cut(strings.TrimSpace(cmd.Example), "\n")
	return first
}

// flagError adds to a complaint about flags where help is.
func flagError(cmd *cobra.Command, err error) error {
	if _, ok := cmd.Annotations[takesWords]; cmd.HasSubCommands() && !ok { // the flag may belong to a command that is misspelt
		if wrong := noSuchCommand(cmd, cmd.Flags().Args()); wrong != nil {
			return wrong
		}
	}
	if s := err.Error(); strings.HasPrefix(s, "unknown shorthand flag") && strings.ContainsAny(s[len(s)-2:], "0123456789") {
		return fmt.Errorf("%w; write a gravity below water in full, as 0.998, or put -- before it", err)
	}
	return fmt.Errorf("%w; see %s --help", err, cmd.CommandPath())
}

// need complains about the first of the flags that was not given.
func need(cmd *cobra.Command, flags ...string) error {
	for _, f := range flags {
		if !cmd.Flags().Changed(f) {
			return fmt.Errorf("%s needs --%s, as in: %s", called(cmd), f, example(cmd))
		}
	}
	return nil
}

// oneOf returns which of the flags was given, and complains unless it is just one.
func oneOf(cmd *cobra.Command, flags ...string) (string, error) {
	var given []string
	for _, f := range flags {
		if cmd.Flags().Changed(f) {
			given = append(given, f)
		}
	}
	choice := "--" + strings.Join(flags, " or --")
	switch len(given) {
	case 0:
		return "", fmt.Errorf("%s needs %s, as in: %s", called(cmd), choice, example(cmd))
	case 1:
		return given[0], nil
	}
	return "", fmt.Errorf("--%s and --%s say two things; give one of %s", given[0], given[1], choice)
}

// namedFiles complains about the flag of a file that is there and empty, as a script's
// variable is that was never set: it must not become another file.
func namedFiles(cmd *cobra.Command) error {
	for _, name := range []string{"cellar", "out", "keep"} {
		if f := cmd.Flags().Lookup(name); f != nil && f.Changed && f.Value.String() == "" {
			return fmt.Errorf("--%s is empty; name a file after it", name)
		}
	}
	return nil
}

// namedFile complains about an empty name.
func namedFile(name string) error {
	if name == "" {
		return errors.New("the name of the file is empty")
	}
	return nil
}

// text returns a flag of type string.
func text(cmd *cobra.Command, flag string) string {
	s, err := cmd.Flags().GetString(flag)
	if err != nil {
		panic(err) // the flag is not defined as a string: our own slip
	}
	return s
}

// on reports whether a flag of type bool is set.
func on(cmd *cobra.Command, flag string) bool {
	b, err := cmd.Flags().GetBool(flag)
	if err != nil {
		panic(err)
	}
	return b
}

// jsonFlag defines --json.
func jsonFlag(cmd *cobra.Command) {
	cmd.Flags().Bool("json", false, "print one JSON object, in SI units")
}

// atFlag defines --at.
func atFlag(cmd *cobra.Command) {
	cmd.Flags().String("at", "now", "`TIME`, as 2d, yesterday, 20nov or 2026-11-20T18:30")
}

// parseNumber understands a number with or without its unit: 12.5, 12,5 or 12.5%.
func parseNumber(typed, what, unit string) (float64, error) {
	s := strings.TrimSuffix(strings.ToLower(strings.TrimSpace(typed)), strings.ToLower(unit))
	x, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(s), ",", "."), 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("%s %q is not understood; write a number such as 12.5: %w", what, typed, model.ErrInvalid)
	}
	return x, nil
}

// word makes a choice from a list compare as people mean it.
func word[T ~string](typed string) T { return T(strings.ToLower(strings.TrimSpace(typed))) }
