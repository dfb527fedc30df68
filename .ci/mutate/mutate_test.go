package main

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
)

// Every kind of mutant, and every outcome, in a package where each is known.
func TestToy(t *testing.T) {
	b, err := build("whorl.example/.ci/mutate/testdata/toy")
	td.Require(t).CmpNoError(err)
	tests, leftOut, err := b.measure(time.Second, 1)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, leftOut, 0)
	got := map[string]string{}
	for id, m := range b.mutants {
		got[m.function+" "+m.from+" "+m.to] = b.try(id, tests).String()
	}
	td.Cmp(t, got, map[string]string{
		"var - +":    "killed",
		"older > >=": "lived", "older > <=": "killed",
		"both && ||": "killed",
		"same == !=": "killed",
		"mean + -":   "killed", "mean / *": "killed",
		"count > >=": "killed", "count > <=": "timed out", "count -- ++": "timed out", "count ++ --": "killed",
		"never - +": "not covered", "never % *": "not covered",
	})
}

// Code that is alike is told apart, and a reason is asked for.
func TestKeysAndReasons(t *testing.T) {
	td.Cmp(t, mutant{file: "a.go", function: "f", from: "<", to: "<=", code: "a < b"}.key(), "a.go f `a < b` < -> <=")
	td.Cmp(t, mutant{file: "a.go", function: "f", from: "<", to: "<=", code: "a < b", nth: 1}.key(), "a.go f `a < b` < -> <= #2")
	keys, err := parseEquivalent("# why\n\na.go f `a < b` < -> <=\tneither is ever reached\n")
	td.CmpNoError(t, err)
	td.Cmp(t, keys, map[string]bool{"a.go f `a < b` < -> <=": true})
	_, err = parseEquivalent("a.go f `a < b` < -> <=\n")
	td.CmpError(t, err)
}

// The standard error is of a draw without replacement; of all of them there is none.
func TestRate(t *testing.T) {
	td.Cmp(t, rate(90, 100, 1), "90.0")
	td.Cmp(t, rate(90, 100, .25), "90.0 (2.6)") // sqrt(.9*.1/100*.75) = .02598
	td.Cmp(t, rate(0, 0, 1), "-")
}
