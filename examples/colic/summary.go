package main

import (
	"fmt"
	"io"
	"strings"

	"whorl.example/vitals"
)

var outcomes = map[outcome]string{unknown: "outcome not recorded", lived: "lived", died: "died", euthanised: "euthanised"}

// String is the line of one visit.
func (v visit) String() string {
	age := "adult"
	if v.young {
		age = "young"
	}
	var flags []string
	for _, f := range v.Alarms {
		flags = append(flags, string(f.Alarm))
	}
	if len(flags) == 0 {
		flags = []string{"-"}
	}
	unchecked := 0
	for _, f := range v.exam().Findings {
		if f.Absent != "" {
			unchecked++
		}
	}
	return fmt.Sprintf("line %3d  %-8s %s  far %5.2f  not checked %d  %-20s  flags: %s",
		v.line, v.hospital, age, v.Overall.Far, unchecked, outcomes[v.outcome], strings.Join(flags, " "))
}

// number is what an area is taken of; ok is false for a visit without it.
type number func(visit) (x float64, ok bool)

func far(v visit) (float64, bool) { return v.Overall.Far, v.Overall.Signs > 0 }

func pulse(v visit) (float64, bool) {
	if v.pulse == nil {
		return 0, false
	}
	return v.pulse.InexactFloat64(), true
}

// split gives the numbers of the visits that ended badly and well, of those that have
// every number asked for.
func split(cases []visit, of number, also ...number) (bad, good []float64) {
	for _, v := range cases {
		x, ok := of(v)
		for _, other := range also {
			_, has := other(v)
			ok = ok && has
		}
		switch {
		case !ok || v.outcome == unknown:
		case v.outcome == lived:
			good = append(good, x)
		default:
			bad = append(bad, x)
		}
	}
	return bad, good
}

// summary prints the areas under the curves.
func summary(w io.Writer, cases []visit) {
	var adults []visit
	for _, v := range cases {
		if !v.young {
			adults = append(adults, v)
		}
	}
	fmt.Fprintf(w, "\nHow well a number tells those that died or were put down from those that lived: area under the ROC curve\n")
	fmt.Fprintf(w, "(standard error, DeLong et al. 1988). Sources: McLeish and Cecile 1989; nothing is fitted to these rows.\n")
	for _, group := range []struct {
		name  string
		cases []visit
	}{{"adults", adults}, {"all", cases}} {
		bad, good := split(group.cases, far, pulse)
		if len(bad) < 2 || len(good) < 2 {
			fmt.Fprintf(w, "%-7stoo few visits\n", group.name)
			continue
		}
		bad, good = split(group.cases, far)
		fmt.Fprintf(w, "%-7s", group.name)
		every := roc(bad, good)
		fmt.Fprintf(w, "far, every visit %.3f (%.3f), n %d+%d", every.area, every.se(), len(bad), len(good))
		bad, good = split(group.cases, far, pulse)
		f := roc(bad, good)
		bad, good = split(group.cases, pulse, far)
		p := roc(bad, good)
		fmt.Fprintf(w, "; visits with a pulse, n %d+%d: far %.3f (%.3f), pulse alone %.3f (%.3f), difference %+.3f (%.3f)\n",
			len(bad), len(good), f.area, f.se(), p.area, p.se(), f.area-p.area, f.seOfDifference(p))
	}
	fmt.Fprintf(w, "flags: at least one \"ring now\" fired in %d of %d visits\n", flagged(cases), len(cases))
}

func flagged(cases []visit) int {
	n := 0
	for _, v := range cases {
		for _, f := range v.Alarms {
			if f.Urgency == vitals.RingNow {
				n++
				break
			}
		}
	}
	return n
}
