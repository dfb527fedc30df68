package vitals_test

import (
	"slices"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// A recheck says again what was told at the first look: onset, number, place and all that was given; what it says itself goes
// before, and what another horse or an exam of another night was told of is not its own.
func TestARecheckCarriesTheStory(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 5, 3, 22, 40, 0, 0, time.UTC)
	first := vitals.Given{What: "flunixin paste", Dose: "500 mg", At: at.Add(-90 * time.Minute), By: "Ana"}
	second := vitals.Given{What: "mash", At: at.Add(-20 * time.Minute)}
	exam := func(id, of vitals.ID, ago time.Duration, s *vitals.Story) vitals.Exam {
		return vitals.Exam{ID: id, Horse: "h", At: at.Add(-ago), RecheckOf: of, Story: s}
	}
	earlier := []vitals.Exam{
		exam("b", "a", 20*time.Minute, &vitals.Story{Callback: "555 010 0143", Given: []vitals.Given{first, second}}),
		exam("a", "", time.Hour, &vitals.Story{Noticed: "off her feed", Since: at.Add(-2 * time.Hour), Course: vitals.Worse, Callback: "555 010 0142", Stands: "Aspen Row", History: "colic in March", Passed: "one pile", Given: []vitals.Given{first}}),
		exam("z", "", 5*time.Hour, &vitals.Story{Noticed: "another night", Changed: "hay"}),
		{ID: "a", Horse: "other", At: at.Add(-time.Hour), Story: &vitals.Story{Changed: "grain"}},
		exam("c", "a", -time.Minute, &vitals.Story{Changed: "later"}),
	}
	got := exam("e", "a", 0, nil).Carrying(earlier)
	td.Cmp(t, got.Story, &vitals.Story{Noticed: "off her feed", Since: at.Add(-2 * time.Hour), Callback: "555 010 0143", Stands: "Aspen Row", History: "colic in March", Given: []vitals.Given{first, second}})
	td.Cmp(t, earlier[1].Story.Given, []vitals.Given{first}, "the exam carried from is as it was")

	own := &vitals.Story{Noticed: "rolls now", Stands: "the arena", Given: []vitals.Given{{What: "nothing"}}}
	got = exam("e", "a", 0, own).Carrying(earlier)
	td.Cmp(t, []string{got.Story.Noticed, got.Story.Stands}, []string{"rolls now", "the arena"})
	td.CmpTrue(t, got.Story.Since.IsZero(), "that began at another time")
	td.Cmp(t, got.Story.Given, []vitals.Given{first, second}, "something was given")
	td.Cmp(t, own.Given, []vitals.Given{{What: "nothing"}})

	for _, e := range []vitals.Exam{exam("e", "", 0, nil), exam("e", "x", 0, own)} {
		td.Cmp(t, e.Carrying(earlier), e, "nothing to carry")
	}
	td.Cmp(t, exam("e", "a", 0, own).Carrying(earlier[2:]).Story, own)
}

// What said to call now at an earlier look holds where nobody looked again, for twelve hours; a sign that was looked at again is judged
// by that look.
func TestHeldAlarms(t *testing.T) {
	t.Parallel()
	h := vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse}
	at := time.Date(2026, 5, 20, 1, 0, 0, 0, time.UTC)
	look := func(id vitals.ID, minutes int, findings ...vitals.Finding) vitals.Exam {
		e := vitals.Exam{ID: id, Horse: h.ID, At: at.Add(time.Duration(minutes) * time.Minute), Status: vitals.Finished, Purpose: vitals.Recheck, Wellness: vitals.Unwell,
			State: vitals.State{Condition: vitals.AtRest}, Depth: vitals.Full, Findings: findings}
		if id != "first" {
			e.RecheckOf = "first"
		}
		return e
	}
	rolls := vitals.Finding{Sign: vitals.PainSigns, Chosen: []vitals.GradeID{"rolls"}}
	calm := vitals.Finding{Sign: vitals.PainSigns, Chosen: []vitals.GradeID{"none"}}
	skipped := vitals.Finding{Sign: vitals.PainSigns, Absent: vitals.NotTried}
	heart := vitals.Finding{Sign: vitals.HeartRate, Count: &vitals.Count{Events: 34, Seconds: 60, Start: vitals.Anywhere}}
	first := look("first", 0, rolls, heart)
	td.Require(t).Cmp(vitals.Strongest(vitals.FiredAlarms(h, first)), vitals.RingNow)
	seen := func(e vitals.Exam, earlier ...vitals.Exam) (out []string) {
		for _, f := range vitals.HeldAlarms(h, e, earlier) {
			if f.Sign == vitals.PainSigns {
				out = append(out, string(f.Urgency)+" "+f.Seen.Format("15:04"))
			}
		}
		return slices.Compact(out)
	}
	held := []string{"now 01:00"}
	td.Cmp(t, seen(look("second", 60, heart), first), held)
	td.Cmp(t, seen(look("second", 60, heart, skipped), first), held, "not checked is not looked at")
	td.Cmp(t, seen(look("second", 60, calm), first), td.Empty())
	td.Cmp(t, seen(look("third", 120, heart), first, look("second", 60, calm)), td.Empty(), "looked at in between")
	td.Cmp(t, seen(look("third", 120, heart), look("second", 60, rolls), first), []string{"now 02:00"}, "the last look at it")
	td.Cmp(t, seen(look("second", 720, heart), first), held)
	td.Cmp(t, seen(look("second", 721, heart), first), td.Empty(), "another day")
	other := look("second", 60, heart)
	other.RecheckOf = "another"
	td.Cmp(t, seen(other, first), td.Empty(), "another case")
	other.RecheckOf = ""
	td.Cmp(t, seen(other, first), td.Empty(), "no recheck")
	// Both flanks were silent; that one was listened to again says nothing of the other.
	flank := func(site vitals.SiteID, grade vitals.GradeID) vitals.Finding {
		return vitals.Finding{Sign: vitals.GutSounds, Site: site, Chosen: []vitals.GradeID{grade}}
	}
	silent := look("first", 0, flank("flank-left", "none"), flank("flank-right", "none"))
	holds := func(findings ...vitals.Finding) int {
		return len(vitals.HeldAlarms(h, look("second", 60, findings...), []vitals.Exam{silent}))
	}
	left, right := flank("flank-left", "normal"), flank("flank-right", "normal")
	td.Cmp(t, []int{holds(heart), holds(left), holds(right), holds(left, right)}, []int{1, 1, 1, 0})
	gone := first
	gone.Status = vitals.Withdrawn
	td.Cmp(t, seen(look("second", 60, heart), gone), td.Empty(), "taken back")
}
