package link

import (
	"math/rand/v2"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/baseline/watch"
	"whorl.example/schema/internal/draw"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// series draws looks of one night, some minutes apart.
func series(s draw.Source, h vitals.Horse) []vitals.Exam {
	var run []vitals.Exam
	at := s.Time().Truncate(time.Minute)
	for range 2 + s(7) {
		e := s.Exam(h)
		e.At, e.Purpose, e.Status, e.State = at, vitals.Recheck, vitals.Finished, vitals.State{Condition: vitals.AtRest}
		e.Story = nil
		run = append(run, e)
		at = at.Add(time.Duration(10+s(50)) * time.Minute)
	}
	return run
}

// The direction of any night is said by the receiver as by the sender.
func TestTheCourseIsSaidAsSent(t *testing.T) {
	t.Parallel()
	said, differ := 0, 0
	for seed := range uint64(150) {
		s := draw.Source(rand.New(rand.NewPCG(seed, 7)).IntN)
		h := s.Horse()
		run := series(s, h)
		exam := run[len(run)-1]
		watched := watch.Last(must(baseline.New(h)), run)
		sent := New(h, exam, nil).With(watched)
		text, err := sent.Fragment()
		td.Require(t).CmpNoError(err, "seed %d", seed)
		got, err := Read(text)
		td.Require(t).CmpNoError(err)
		td.Cmp(t, got.Course, sent.Course)
		back := got.Watched()
		for _, w := range watched {
			if !w.To.After(w.From) {
				continue
			}
			td.Require(t).Cmp(back, td.NotEmpty(), "seed %d", seed)
			td.Require(t).Cmp(back[0].Sign, w.Sign)
			td.Cmp(t, back[0].Trend, w.Trend)
			td.Cmp(t, back[0].Course, w.Course)
			want, have := w.Say(words.English), back[0].Say(words.English)
			td.Cmp(t, have, td.Len(len(want)))
			for i := range want {
				if said++; want[i] != have[i] {
					differ++
					t.Logf("seed %d: %q became %q", seed, want[i], have[i])
				}
			}
			back = back[1:]
		}
		td.Cmp(t, back, td.Empty())
	}
	// A figure that lies on the edge of what is told may be told one step further.
	td.Cmp(t, said > 1000 && differ <= said/100, true, "%d of %d", differ, said)
}

// Where a code has no room, what stayed as it was goes first, then all of the course; what is left is as it was.
func TestACourseIsSentShorter(t *testing.T) {
	t.Parallel()
	s := nightSent(t)
	all := s.Watched()
	less, ok := s.Shorter()
	td.Require(t).Cmp(ok, true)
	var moving []watch.Watched
	for _, w := range all {
		if w.Moved() || len(w.Points) > 0 {
			moving = append(moving, w)
		}
	}
	td.CmpLt(t, len(moving), len(all))
	td.Cmp(t, less.Watched(), moving)
	last, ok := less.Shorter()
	td.Cmp(t, ok, true)
	td.Cmp(t, last.Course, td.Nil())
	_, ok = last.Shorter()
	td.Cmp(t, ok, false)
}

func TestForeignCoursesAreRefused(t *testing.T) {
	t.Parallel()
	s := draw.Source(rand.New(rand.NewPCG(3, 7)).IntN)
	h := s.Horse()
	run := series(s, h)
	watched := watch.Last(must(baseline.New(h)), run)
	for path, spoil := range map[string]func(c *Course){
		"/of":         func(c *Course) { c.Of = nil },
		"/looks":      func(c *Course) { c.Looks[0]++; c.Looks = c.Looks[1:] },
		"/missing":    func(c *Course) { c.Missing[0] = -1 },
		"/way":        func(c *Course) { c.Way = "?" + c.Way[1:] },
		"/minutes":    func(c *Course) { c.Minutes[0] = 1 << 40 },
		"/values":     func(c *Course) { c.Values = nil },
		"/sds":        func(c *Course) { c.SDs = append(c.SDs, 1) },
		"/slope":      func(c *Course) { c.Slope = c.Slope[1:] },
		"/chosen":     func(c *Course) { c.Chosen = append(c.Chosen, "x") },
		"/ranks/0":    func(c *Course) { c.Ranks = [][]int{{99, 1, 1}} },
		"/warnings/0": func(c *Course) { c.Warnings = [][]string{{"99", "watch.own"}} },
	} {
		sent := New(h, run[len(run)-1], nil).With(watched)
		td.Require(t).Cmp(sent.Course, td.NotNil())
		spoil(sent.Course)
		_, err := sent.Fragment()
		td.Cmp(t, err, td.Contains(td.Struct(vitals.Fault{Code: FaultNotOfExam, Path: "/course" + path}, td.StructFields{
			"Args": td.Ignore(), "Sentence": td.Ignore()})), path)
	}
}
