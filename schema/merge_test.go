package schema_test

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/schema"
	"whorl.example/schema/internal/draw"
	"whorl.example/vitals"
)

// fataler is a test of package testing or of rapid.
type fataler interface {
	td.TestingT
	Fatal(args ...any)
}

func merge(t fataler, a, b schema.File) schema.File {
	t.Helper()
	f, _, err := schema.Merge(a, b)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// written is the file as bytes; what is merged can be opened again.
func written(t fataler, f schema.File) string {
	t.Helper()
	text, err := schema.Encode(f)
	if err != nil {
		t.Fatal(err)
	}
	back, err := schema.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := schema.Encode(back); err != nil || string(again) != string(text) {
		t.Fatal(err, string(again), string(text))
	}
	return string(text)
}

// history is three telephones, each with its barn.
type history struct {
	devices [3]schema.File
	source  draw.Source
	n       int
}

func (h *history) id(prefix string) vitals.ID {
	h.n++
	return vitals.ID(prefix + strconv.Itoa(h.n))
}

// step does one thing on one device.
func (h *history) step(t *rapid.T) {
	f := &h.devices[rapid.IntRange(0, 2).Draw(t, "device")]
	pick := func(n int) int { return rapid.IntRange(0, n-1).Draw(t, "which") }
	what := rapid.SampledFrom([]string{"horse", "exam", "exam", "edit", "edit", "finding", "finish", "rename", "usual", "back", "call", "aside", "delete", "unread", "exchange", "exchange"}).Draw(t, "what")
	switch {
	case what == "horse" || len(f.Horses) == 0:
		horse := h.source.Horse()
		horse.ID, horse.Born = h.id("h"), vitals.Date{}
		horse.BornYearOnly = false
		f.Horses = append(slices.Clone(f.Horses), horse)
	case what == "rename":
		f.Horses = slices.Clone(f.Horses)
		i := pick(len(f.Horses))
		f.Horses[i].Name = rapid.SampledFrom([]string{"Bramble", "Juniper", "Sorrel"}).Draw(t, "name")
	case what == "usual":
		f.Horses = slices.Clone(f.Horses)
		i := pick(len(f.Horses))
		from := time.Date(2026, 4, 1+rapid.IntRange(0, 2).Draw(t, "from"), 7, 0, 0, 0, time.UTC)
		f.Horses[i].NewUsual = vitals.MergeNewUsual(f.Horses[i].NewUsual, []vitals.NewUsual{{Sign: vitals.HeartRate, From: from, Said: from}})
	case what == "back":
		f.Horses = slices.Clone(f.Horses)
		if u := &f.Horses[pick(len(f.Horses))].NewUsual; len(*u) > 0 {
			*u = slices.Clone(*u)
			(*u)[pick(len(*u))].Back = true
		}
	case what == "exam" || len(f.Exams) == 0:
		e := h.source.Exam(f.Horses[pick(len(f.Horses))])
		e.ID, e.Status = h.id("e"), vitals.Draft
		f.Exams = append(slices.Clone(f.Exams), e)
	case what == "call":
		f.Exams = slices.Clone(f.Exams)
		f.Exams[pick(len(f.Exams))].Call = h.source.Call()
	case what == "exchange":
		other := h.devices[pick(3)]
		both := merge(t, *f, other)
		nothingLost(t, both, *f)
		nothingLost(t, both, other)
		*f = both
	case what == "delete":
		gone := f.Horses[pick(len(f.Horses))]
		f.Horses = slices.DeleteFunc(slices.Clone(f.Horses), func(x vitals.Horse) bool { return x.ID == gone.ID })
		f.Exams = slices.DeleteFunc(slices.Clone(f.Exams), func(e vitals.Exam) bool { return e.Horse == gone.ID })
		f.Conflicts = slices.DeleteFunc(slices.Clone(f.Conflicts), func(c schema.Conflict) bool {
			return c.Horse != nil && c.Horse.ID == gone.ID || c.Exam != nil && c.Exam.Horse == gone.ID
		})
		f.Gone = append(slices.Clone(f.Gone), schema.Gone{ID: gone.ID, Name: gone.Name})
	case what == "unread":
		f.Unread = append(slices.Clone(f.Unread), schema.Unread{Of: "Juniper", Text: schema.Document(h.id("text"))})
	case what == "aside":
		if len(f.Conflicts) > 0 {
			f.Conflicts = slices.Clone(f.Conflicts)
			f.Conflicts[pick(len(f.Conflicts))].Aside = true
		}
	default:
		f.Exams = slices.Clone(f.Exams)
		e := &f.Exams[pick(len(f.Exams))]
		e.Findings = slices.Clone(e.Findings)
		switch n := len(e.Findings); {
		case what == "finish":
			e.Status = vitals.Finished
		case what == "finding" || n == 0:
			e.Findings = append(e.Findings, vitals.Finding{Sign: vitals.PainSigns, Minutes: 100 + h.n, Chosen: []vitals.GradeID{"none"}})
			h.n++
		default:
			e.Findings[pick(n)].Note = rapid.SampledFrom([]string{"", "again", "left"}).Draw(t, "note")
		}
	}
}

// Whatever was done on three telephones, in whatever order they exchange their
// files, all end with the same bytes, and nothing that was finished is dropped.
func TestThreeTelephonesEndWithTheSameFile(t *testing.T) {
	conflicts := 0
	rapid.Check(t, func(t *rapid.T) {
		h := history{source: draw.Source(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)).IntN)}
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			h.step(t)
		}
		a, b, c := h.devices[0], h.devices[1], h.devices[2]
		all := merge(t, merge(t, a, b), c)
		want := written(t, all)
		for _, f := range []schema.File{
			merge(t, a, merge(t, b, c)), merge(t, merge(t, c, a), b), merge(t, merge(t, c, b), a), // order
			merge(t, all, all), merge(t, all, b), merge(t, merge(t, a, a), all), // once more
		} {
			if got := written(t, f); got != want {
				t.Fatalf("%s\n%s", got, want)
			}
		}
		conflicts += len(all.Conflicts)
		for _, f := range h.devices {
			nothingLost(t, all, f)
		}
	})
	// One history in seven has a conflict: 20 of them, as -short draws, have none once in twenty times; 100 never.
	if !testing.Short() {
		td.Cmp(t, conflicts > 0, true, "no conflict was ever made")
	}
}

// nothingLost holds that every horse, every finished exam and every finished version in
// conflict of a file is in a merged one, as it was.
func nothingLost(t fataler, merged, f schema.File) {
	t.Helper()
	has := map[string]bool{}
	answers := func(f schema.File) map[vitals.ID][]vitals.NewUsual {
		out := map[vitals.ID][]vitals.NewUsual{}
		for _, h := range f.Horses {
			out[h.ID] = h.NewUsual
		}
		return out
	}
	all := answers(merged)
	for id, list := range answers(f) {
		if both := vitals.MergeNewUsual(all[id], list); len(both) > 0 {
			td.Cmp(t, both, all[id], "an answer was lost or came back")
		}
	}
	there := map[vitals.ID]bool{}
	for _, h := range merged.Horses {
		there[h.ID] = true
	}
	for _, g := range merged.Gone {
		there[g.ID] = true
	}
	for _, g := range f.Gone {
		td.Cmp(t, there[g.ID], true, "the mark of a deleted horse was lost")
	}
	for _, u := range f.Unread {
		td.Cmp(t, merged.Unread, td.Contains(u), "what could not be read was lost")
	}
	calls := map[vitals.ID]*vitals.Call{}
	for i := range merged.Exams {
		calls[merged.Exams[i].ID] = merged.Exams[i].Call
	}
	for _, e := range f.Exams {
		if e.Call != nil {
			td.Cmp(t, vitals.MergeCall(calls[e.ID], e.Call), calls[e.ID], "what was remembered of a call was lost")
		}
	}
	aside := map[string]bool{}
	each := func(f schema.File, do func(key string, finished, aside bool)) {
		all := slices.Clone(f.Conflicts)
		for i := range f.Horses {
			all = append(all, schema.Conflict{Horse: &f.Horses[i]})
		}
		for i := range f.Exams {
			all = append(all, schema.Conflict{Exam: &f.Exams[i]})
		}
		for _, c := range all {
			away := c.Aside
			c.Aside = false
			if c.Horse != nil {
				horse := *c.Horse
				horse.NewUsual = nil // put together, see above
				c.Horse = &horse
			} else {
				exam := *c.Exam
				exam.Call = nil // put together, see above
				c.Exam = &exam
			}
			text, err := schema.Marshal(c)
			if err != nil {
				t.Fatal(err)
			}
			do(string(text), c.Exam == nil || c.Exam.Status == vitals.Finished, away)
		}
	}
	each(merged, func(key string, _, away bool) { has[key], aside[key] = true, aside[key] || away })
	each(f, func(key string, finished, away bool) {
		if finished && !has[key] {
			t.Fatal("lost: " + key)
		}
		if away && has[key] && !aside[key] {
			t.Fatal("no longer put aside: " + key)
		}
	})
}

func TestMerge(t *testing.T) {
	s := draw.Source(rand.New(rand.NewPCG(1, 1)).IntN)
	horse := s.Horse()
	horse.Born, horse.BornYearOnly = vitals.Date{}, false
	exam := s.Exam(horse)
	exam.Status, exam.Findings = vitals.Draft, []vitals.Finding{{Sign: vitals.Attitude, Absent: vitals.NotTried}}
	file := func(e vitals.Exam) schema.File {
		return schema.File{Horses: []vitals.Horse{horse}, Exams: []vitals.Exam{e}}
	}

	done := exam
	done.Status, done.Findings = vitals.Finished, []vitals.Finding{{Sign: vitals.Attitude, Chosen: []vitals.GradeID{"bright"}}}
	other := done
	other.Findings = []vitals.Finding{{Sign: vitals.Attitude, Chosen: []vitals.GradeID{"quiet"}}}

	f, fresh, err := schema.Merge(file(exam), file(done))
	td.CmpNoError(t, err)
	td.Cmp(t, f.Exams, []vitals.Exam{done}, "an earlier state of a draft gives way")
	td.Cmp(t, f.Conflicts, td.Empty())
	td.Cmp(t, fresh, td.Empty())

	f, fresh, err = schema.Merge(f, file(other))
	td.CmpNoError(t, err)
	td.Cmp(t, f.Exams, td.Len(1))
	td.Cmp(t, f.Conflicts, td.Len(1), "two finished contents both stay")
	td.Cmp(t, fresh, f.Conflicts)
	_, fresh, _ = schema.Merge(f, file(other))
	td.Cmp(t, fresh, td.Empty(), "told once")

	// A person prefers the version in conflict: the one shown is put aside, by hand.
	shown, rest := f.Exams[0], *f.Conflicts[0].Exam
	f.Exams[0], f.Conflicts = rest, []schema.Conflict{{Exam: &shown, Aside: true}}
	f, fresh, err = schema.Merge(f, file(shown))
	td.CmpNoError(t, err)
	td.Cmp(t, f.Exams, []vitals.Exam{rest}, "the choice outlives the next exchange")
	td.Cmp(t, fresh, td.Empty())
	written(t, f)
	// One telephone has put a version aside, the other still has it open: it is aside on both, whichever merges first.
	open := schema.File{Horses: f.Horses, Exams: f.Exams, Conflicts: []schema.Conflict{{Exam: &shown}}}
	td.Cmp(t, merge(t, open, f).Conflicts, f.Conflicts)
	td.Cmp(t, merge(t, f, open).Conflicts, f.Conflicts)

	// A horse that was deleted on one telephone and is on the other is there; where neither has it, its mark goes on.
	gone := schema.File{Gone: []schema.Gone{{ID: horse.ID, Name: horse.Name}}}
	td.Cmp(t, merge(t, gone, f), f)
	td.Cmp(t, merge(t, gone, schema.File{}).Gone, gone.Gone)

	// What was said of the new usual on two telephones stands on both, and makes no conflict.
	said := vitals.NewUsual{Sign: vitals.HeartRate, From: exam.At, Said: exam.At, By: "Ann"}
	a, b := file(done), file(done)
	a.Horses[0].NewUsual = []vitals.NewUsual{said}
	later := said
	later.Sign = vitals.RectalTemperature
	b.Horses[0].NewUsual = []vitals.NewUsual{later}
	both, fresh, err := schema.Merge(a, b)
	td.CmpNoError(t, err)
	td.Cmp(t, fresh, td.Empty())
	td.Cmp(t, both.Horses[0].NewUsual, td.Len(2))
	taken := file(done)
	said.Back = true
	taken.Horses[0].NewUsual = []vitals.NewUsual{said}
	both = merge(t, both, taken)
	both = merge(t, both, a)
	_, holds := both.Horses[0].UsualFrom(vitals.HeartRate, "", exam.At)
	td.Cmp(t, holds, false, "what was taken back stays so")
	written(t, both)

	// So does what is remembered of a call, whichever telephone was told and whichever closed it.
	told, closed := done, done
	told.Call = &vitals.Call{SaidAt: exam.At.Add(time.Minute), Alarms: []vitals.AlarmID{"no-weight"}, ToldAt: exam.At.Add(time.Hour), Told: "the clinic"}
	closed.Call = &vitals.Call{SaidAt: exam.At, Alarms: []vitals.AlarmID{"dull"}, ClosedAt: exam.At.Add(2 * time.Hour), Outcome: "she came"}
	f, fresh, err = schema.Merge(file(told), file(closed))
	td.CmpNoError(t, err)
	td.Cmp(t, fresh, td.Empty())
	td.Cmp(t, f.Exams[0].Call, &vitals.Call{SaidAt: exam.At, Alarms: []vitals.AlarmID{"dull", "no-weight"},
		ToldAt: exam.At.Add(time.Hour), Told: "the clinic", ClosedAt: exam.At.Add(2 * time.Hour), Outcome: "she came"})
	td.Cmp(t, written(t, merge(t, file(closed), merge(t, file(done), file(told)))), written(t, f))
	// A draft in which nothing is answered yet gives way to the finished exam, and leaves what it remembers.
	begun := exam
	begun.Call = told.Call
	td.Cmp(t, merge(t, file(begun), file(done)).Exams[0].Call, told.Call)

	// A finding that was taken out of a finished exam does not come back unseen.
	fewer := done
	fewer.Findings = nil
	f = merge(t, file(fewer), file(done))
	td.Cmp(t, f.Conflicts, td.Len(1))
}

func TestConflictsAreChecked(t *testing.T) {
	s := draw.Source(rand.New(rand.NewPCG(1, 1)).IntN)
	horse := s.Horse()
	horse.Born, horse.BornYearOnly = vitals.Date{}, false
	exam := s.Exam(horse)
	stranger := horse
	stranger.ID = "stranger"
	for path, c := range map[string]schema.Conflict{
		"/conflicts/0":          {},
		"/conflicts/0/horse/id": {Horse: &stranger},
		"/conflicts/0/exam/id":  {Exam: &exam},
	} {
		_, err := schema.Encode(schema.File{Horses: []vitals.Horse{horse}, Conflicts: []schema.Conflict{c}})
		td.Cmp(t, listed(err), td.Contains("bad-conflict "+path))
	}
	for path, list := range map[string][]schema.Gone{
		"duplicate-id /gone/0/id":   {{ID: horse.ID, Name: "Bramble"}},
		"duplicate-id /gone/1/id":   {{ID: "a", Name: "Bramble"}, {ID: "a", Name: "Bramble"}},
		"bad-id /gone/0/id":         {{ID: "a b", Name: "Bramble"}},
		"missing-text /gone/0/name": {{ID: "a", Name: " "}},
	} {
		_, err := schema.Encode(schema.File{Horses: []vitals.Horse{horse}, Gone: list})
		td.Cmp(t, listed(err), td.Contains(path))
	}
	_, _, err := schema.Merge(schema.File{Conflicts: []schema.Conflict{{}}}, schema.File{})
	td.Cmp(t, listed(err), []string{"bad-conflict /conflicts"})
	bad := horse
	bad.Name = "\xff"
	_, _, err = schema.Merge(schema.File{Horses: []vitals.Horse{bad}}, schema.File{})
	td.CmpError(t, err)
}
