package vitals_test

import (
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
