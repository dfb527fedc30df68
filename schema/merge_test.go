package schema_test

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/schema"
	"whorl.example/schema/internal/draw"
	"whorl.example/vitals"
)

// fataler is a test of package testing or of rapid.
type fataler interface {
	Helper()
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
	what := rapid.SampledFrom([]string{"horse", "exam", "exam", "edit", "edit", "finding", "finish", "rename", "aside", "exchange", "exchange"}).Draw(t, "what")
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
	case what == "exam" || len(f.Exams) == 0:
		e := h.source.Exam(f.Horses[pick(len(f.Horses))])
		e.ID, e.Status = h.id("e"), vitals.Draft
		f.Exams = append(slices.Clone(f.Exams), e)
	case what == "exchange":
		other := h.devices[pick(3)]
		both := merge(t, *f, other)
		nothingLost(t, both, *f)
		nothingLost(t, both, other)
		*f = both
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
	td.Cmp(t, conflicts > 0, true, "no conflict was ever made")
}

// nothingLost holds that every horse, every finished exam and every finished version in
// conflict of a file is in a merged one, as it was.
func nothingLost(t fataler, merged, f schema.File) {
	t.Helper()
	has := map[string]bool{}
	each := func(f schema.File, do func(key string, finished bool)) {
		all := slices.Clone(f.Conflicts)
		for i := range f.Horses {
			all = append(all, schema.Conflict{Horse: &f.Horses[i]})
		}
		for i := range f.Exams {
			all = append(all, schema.Conflict{Exam: &f.Exams[i]})
		}
		for _, c := range all {
			c.Aside = false
			text, err := schema.Marshal(c)
			if err != nil {
				t.Fatal(err)
			}
			do(string(text), c.Exam == nil || c.Exam.Status == vitals.Finished)
		}
	}
	each(merged, func(key string, _ bool) { has[key] = true })
	each(f, func(key string, finished bool) {
		if finished && !has[key] {
			t.Fatal("lost: " + key)
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
	_, _, err := schema.Merge(schema.File{Conflicts: []schema.Conflict{{}}}, schema.File{})
	td.Cmp(t, listed(err), []string{"bad-conflict /conflicts"})
	bad := horse
	bad.Name = "\xff"
	_, _, err = schema.Merge(schema.File{Horses: []vitals.Horse{bad}}, schema.File{})
	td.CmpError(t, err)
}
