package main

import (
	"math"
	"strconv"
	"strings"

	"wintertop/forecast"
)

// differFlag is --differ: degrees of hardiness or percent of leaf mass.
type differFlag struct{ to *forecast.Difference }

func (f *differFlag) String() string { return "" }
func (f *differFlag) Type() string   { return "size" }
func (f *differFlag) Set(s string) error {
	const hint = "write degrees of hardiness or percent of leaf mass, such as 1C or 20%"
	low := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(s)), " ", "")
	for _, unit := range []string{"degc", "°c", "c", "%"} {
		number, ok := strings.CutSuffix(low, unit)
		if !ok {
			continue
		}
		x, err := strconv.ParseFloat(number, 64)
		most := 6.0
		if unit == "%" {
			most = 300
		}
		switch {
		case err != nil || math.IsNaN(x):
			return &usageError{what: "--differ " + quote(s) + " is not a difference", hint: hint}
		case x <= 0:
			return &usageError{what: "--differ " + quote(s) + ": lines that do not differ cannot be told apart", hint: "give what one line is better by, above 0"}
		case x > most || x < most/600:
			return &usageError{what: "--differ " + quote(s) + " is beyond what lines differ by", hint: "between 0.01C and 6C of hardiness, or 0.5% and 300% of leaf mass"}
		}
		*f.to = forecast.Difference{Hardiness: true, By: x}
		if unit == "%" {
			*f.to = forecast.Difference{By: math.Log1p(x / 100)}
		}
		return nil
	}
	return &usageError{what: "--differ " + quote(s) + " names neither °C nor %", hint: hint}
}

// chanceFlag is --chance: a share, or percent.
type chanceFlag struct{ to *float64 }

func (f *chanceFlag) String() string { return "" }
func (f *chanceFlag) Type() string   { return "chance" }
func (f *chanceFlag) Set(s string) error {
	number, percent := strings.CutSuffix(strings.TrimSpace(s), "%")
	x, err := strconv.ParseFloat(number, 64)
	if percent {
		x /= 100
	}
	hint := "between 0.55 and 0.999, such as 0.9"
	switch {
	case err != nil || math.IsNaN(x):
		return &usageError{what: "--chance " + quote(s) + " is not a chance", hint: "write a share " + hint}
	case x >= 55 && x <= 99.9 && !percent:
		return &usageError{what: "--chance " + quote(s) + " is above 1", hint: "write " + s + "% for percent"}
	case x >= 0 && x <= 0.5:
		return &usageError{what: "--chance " + quote(s) + ": half is what tossing a coin gives", hint: "write a share " + hint}
	case !(x >= 0.55 && x <= 0.999):
		return &usageError{what: "--chance " + quote(s) + " cannot be aimed at", hint: "write a share " + hint}
	}
	*f.to = x
	return nil
}

// bestOfFlag is --best-of.
type bestOfFlag struct{ to *int }

func (f *bestOfFlag) String() string { return "" }
func (f *bestOfFlag) Type() string   { return "lines" }
func (f *bestOfFlag) Set(s string) error {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil || n < 2 || n > 500 {
		return &usageError{what: "--best-of " + quote(s) + " is no number of lines to choose from", hint: "write a whole number from 2 to 500"}
	}
	*f.to = n
	return nil
}
