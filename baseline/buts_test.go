package baseline

import (
	"slices"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// A warning of the other side stands where the same sign differs there, and nowhere else.
func TestTheOtherSideIsTheSameSignElsewhere(t *testing.T) {
	t.Parallel()
	at := func(sign vitals.SignID, site vitals.SiteID, stands Statement, chosen ...vitals.GradeID) Compared {
		return Compared{Sign: sign, Site: site, Statement: stands, Chosen: chosen}
	}
	warned := func(signs ...Compared) (keys []string) {
		otherSides(signs)
		for i := range signs {
			for _, w := range signs[i].Warnings {
				keys = append(keys, string(signs[i].Site)+" "+w.Key+" "+w.Args[1]+" "+w.Args[3])
			}
		}
		return keys
	}
	left := at(vitals.GutSounds, "upper-left", Differs, "none")
	td.Cmp(t, warned(left, at(vitals.GutSounds, "upper-right", AsUsual, "present")), []string{"upper-left " + WarnOtherSide + " upper-right present"})
	td.Cmp(t, warned(left, at(vitals.GutSounds, "upper-right", AsUsual, "none")), td.Empty(), "it is the same there")
	td.Cmp(t, warned(left, at(vitals.GutSounds, "lower-right", AsUsual, "present")), td.Empty(), "that is another place")
	td.Cmp(t, warned(left, at(vitals.DigitalPulse, "upper-right", AsUsual, "present")), td.Empty(), "that is another sign")
	td.Cmp(t, warned(left, at(vitals.GutSounds, "upper-right", AsUsual)), td.Empty(), "nothing was chosen there")
	td.Cmp(t, warned(at(vitals.GutSounds, "back", Differs, "none"), at(vitals.GutSounds, "", AsUsual, "present")), td.Empty(), "a place without another side")
	td.Cmp(t, warned(at(vitals.GutSounds, "upper-left", AsUsual, "present"), at(vitals.GutSounds, "upper-right", AsUsual, "none")), td.Empty(), "nothing is out of the usual")
}

// The buts of a reading: ranges from memory are said where all of them are, and a place known to be
// unreliable by its name.
func TestTheButsOfAReading(t *testing.T) {
	t.Parallel()
	keys := func(f vitals.Finding, weak bool, marks ...vitals.Mark) (out []string) {
		sign, _ := vitals.Lookup(f.Sign)
		s, c := &series{sign: sign, exams: []Learned{{}}, points: []level.Reading{{}}}, &Compared{Basis: Basis{Exams: 1, Weak: weak}}
		for _, m := range marks {
			c.Printed = append(c.Printed, Printed{Provenance: vitals.Provenance{Mark: m}})
		}
		s.methodWarnings(c, &f)
		for _, w := range c.Warnings {
			out = append(out, w.Key)
		}
		return out
	}
	f := vitals.Finding{Sign: vitals.HeartRate}
	td.Cmp(t, keys(f, false, vitals.Memory), td.Empty())
	td.Cmp(t, keys(f, true, vitals.Memory, vitals.Memory), []string{WarnFewExams, WarnPriorMemory})
	td.Cmp(t, keys(f, true, vitals.Memory, vitals.Read), []string{WarnFewExams})
	td.Cmp(t, keys(f, true, vitals.Read, vitals.Memory), []string{WarnFewExams})
	td.Cmp(t, keys(f, true), []string{WarnFewExams}, "without a range there is none from memory")
	known := 0
	for _, sign := range vitals.Catalogue() {
		for _, site := range sign.Sites {
			got := keys(vitals.Finding{Sign: sign.ID, Site: site.ID}, false)
			td.Cmp(t, slices.Contains(got, WarnSiteWeak), site.Weak != nil, "%s %s", sign.ID, site.ID)
			if site.Weak != nil {
				known++
			}
		}
	}
	td.CmpGt(t, known, 0)
}

// Two exams of one moment that say the same are one; of another moment, or one that says something else or teaches
// nothing, or the one compared, they are two.
func TestOneExamUnderTwoNames(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC)
	twice := func(change func(o *summary), compared vitals.ID) bool {
		o := &summary{id: "a", at: now, hash: fingerprint.Hash{1, 2}}
		change(o)
		b := &Baseline{summaries: []*summary{o, {id: "b", at: now, hash: fingerprint.Hash{1, 2}}}}
		return b.twice(1, compared)
	}
	td.Cmp(t, twice(func(*summary) {}, ""), true)
	td.Cmp(t, twice(func(o *summary) { o.at = now.Add(-time.Second) }, ""), false)
	td.Cmp(t, twice(func(o *summary) { o.hash = fingerprint.Hash{1, 3} }, ""), false)
	td.Cmp(t, twice(func(o *summary) { o.reason = "sick" }, ""), false)
	td.Cmp(t, twice(func(*summary) {}, "a"), false)
}

// What was not seen of a sign at one place is said beside what was not seen of it at another.
func TestUncheckedByPlace(t *testing.T) {
	t.Parallel()
	exam := tonight(40, heart(40))
	exam.Depth = vitals.WalkUp // asks for neither
	exam.Findings = append(exam.Findings,
		vitals.Finding{Sign: vitals.GutSounds, Site: "upper-left", Absent: vitals.NotTried},
		vitals.Finding{Sign: vitals.GutSounds, Site: "upper-right", Absent: vitals.CouldNot},
		vitals.Finding{Sign: vitals.GutSounds, Site: "upper-right", Absent: vitals.CouldNot})
	var got []Unchecked
	for _, u := range unchecked(vitals.Horse{}, exam) {
		if u.Sign == vitals.GutSounds {
			got = append(got, u)
		}
	}
	td.Cmp(t, got, []Unchecked{{vitals.GutSounds, "upper-left", vitals.NotTried}, {vitals.GutSounds, "upper-right", vitals.CouldNot}})
}
