// Package calc is the science of glassrow: what sugar, alcohol, water and
// density do to one another, each formula once and with its published source.
//
// Everything here is a pure function of its arguments. The package knows no
// clock, no file, no screen and no wording; it imports nothing of the project.
// A quantity carries its unit in its type, and a function asked outside the
// range it is known for returns an error that wraps [ErrOutOfRange] or
// [ErrNotANumber], never a quiet number.
//
// The heart is [Liquid]: grams of water, ethanol and each kind of sugar. Mass
// is conserved exactly; volume and gravity are computed from it, so
// contraction, dilution and sweetening come out by themselves.
package calc
