package recovery

import (
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Where the end of work was pressed on a clock, the seconds count: FEI's 15 minutes are
// not met by a count at 15:20 that "15 minutes since" would let pass.
func TestRecoveryByTheClock(t *testing.T) {
	t.Parallel()
	ended := time.Date(2025, 6, 1, 17, 0, 20, 0, time.UTC)
	at := func(d time.Duration, beat int) vitals.Exam {
		e := afterWork(1, int(d.Minutes()), beats(beat))
		e.ID, e.At, e.State.Ended = vitals.ID(d.String()), ended.Add(d), ended
		return e
	}
	r := Find("juniper", []vitals.Exam{at(4*time.Minute+40*time.Second, 90), at(15*time.Minute+20*time.Second, 64)})
	td.Cmp(t, r, td.Len(1))
	td.Cmp(t, r[0].Ended, ended)
	nearTo(t, r[0].Heart[0].Minutes, 4+40./60, 1e-9)
	nearTo(t, r[0].Heart[1].Minutes, 15+20./60, 1e-9)
	for _, a := range r[0].Criteria {
		switch a.Criterion.ID {
		case "fei-2020-gate":
			td.Cmp(t, a.Within, NotWithin)
		case "fei-2020-final":
			td.Cmp(t, a.Within, Within)
		}
	}
	// A count whose end of work was only estimated follows the pressed clock.
	guess := afterWork(1, 9, beats(72))
	guess.At = ended.Add(10 * time.Minute)
	r = Find("juniper", []vitals.Exam{guess, at(15*time.Minute, 64)})
	td.Cmp(t, r[0].Ended, ended)
	nearTo(t, r[0].Heart[0].Minutes, 10, 1e-9)
}

// The count after a trot in hand stands beside the count before it, and apart from the
// course of the recovery.
func TestRecoveryWithATrot(t *testing.T) {
	t.Parallel()
	before := afterWork(1, 20, beats(56))
	after := afterWork(1, 22, beats(62))
	after.Trot = &vitals.Trot{Before: before.ID, OutMetres: decimal.RequireFromString("38.1"), Clock: FromTrotStart, Seconds: 60}
	r := Find("juniper", []vitals.Exam{afterWork(1, 3, beats(92)), before, after})[0]
	td.Cmp(t, r.Heart, td.Len(2))
	td.Cmp(t, r.Trots, td.Len(1))
	nearTo(t, r.Trots[0].Difference, 6, 1e-9)
	td.Cmp(t, r.Trots[0].Fits, td.Len(1))
	td.Cmp(t, r.Trots[0].Fits[0].Definition.ID, "aerc")
	said := strings.Join(r.Say(words.English), "\n")
	td.Cmp(t, said, td.Contains("After the trot-out the heart beat 6 a minute faster (56, then 62; uncertain by"))
	td.Cmp(t, said, td.Contains("count again in 10 to 15 minutes."))
	// A trot whose first count is not at hand says nothing.
	after.Trot.Before = "elsewhere"
	r = Find("juniper", []vitals.Exam{before, after})[0]
	td.Cmp(t, r.Trots, td.Empty())
	td.Cmp(t, r.Heart, td.Len(1))
}
