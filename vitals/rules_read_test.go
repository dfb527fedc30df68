package vitals

import (
	"slices"
	"testing"
)

// A rule that is written wrongly is not read as another one.
func TestARuleWrittenWronglyIsNotRead(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"again",
		"again x now a belly: feed none",
		"now a",
		"now a belly:",
		"\twith feed none",
		"now a belly: heart-rate >= x /min",
		"now a belly: since-work x..",
		"now a belly: wounds slight at 2",
		"now a belly: feed none\n\tof nobody",
		"group a: horse",
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%q was read", text)
				}
			}()
			readRules(text)
		}()
	}
}

// Every word of the rules is one of the catalogue or of the lists.
func TestTheRulesUseKnownWords(t *testing.T) {
	t.Parallel()
	clocks := []Clock{SinceWork, SinceBirth, SinceFoaling}
	marks := []Mark{Read, SecondHand, Memory, Derived, CommonPractice, Assumed}
	for _, a := range alarms {
		wrong := func(what string, x any) { t.Errorf("%s: %s %q is not known", a.ID, what, x) }
		if !slices.Contains(urgencies, a.Urgency) || a.Then != "" && !slices.Contains(urgencies, a.Then) {
			wrong("urgency", a.Urgency)
		}
		if !slices.Contains(allProblems, a.Problem) {
			wrong("problem", a.Problem)
		}
		if a.First != "" && !slices.Contains(allActs, a.First) {
			wrong("act", a.First)
		}
		if !slices.Contains(marks, a.Mark) {
			wrong("mark", a.Mark)
		}
		for _, x := range a.Types {
			if !slices.Contains(allTypes, x) {
				wrong("type", x)
			}
		}
		for _, x := range a.Stages {
			if !slices.Contains(allStages, x) {
				wrong("stage", x)
			}
		}
		for _, x := range slices.Concat([]Test{a.Test}, a.With, a.Unless, a.Any) {
			sign, known := Lookup(x.Sign)
			switch {
			case x.Fact != "" && !slices.Contains(allFacts, x.Fact):
				wrong("fact", x.Fact)
			case x.Clock != "" && !slices.Contains(clocks, x.Clock):
				wrong("clock", x.Clock)
			case x.Sign != "" && !known:
				wrong("sign", x.Sign)
			case x.Unit != "" && !x.Unit.Same(sign.Unit):
				wrong("unit", x.Unit)
			}
			for _, g := range x.Grades {
				if _, ok := sign.Grade(g); !ok {
					wrong("answer", g)
				}
			}
		}
	}
}
