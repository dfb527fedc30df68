package report

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// demo is a horse of the demo barn with its exams.
func demo(t *testing.T, id vitals.ID) (vitals.Horse, *baseline.Baseline) {
	t.Helper()
	text, err := os.ReadFile("../../wasm/page/demo/barn.json")
	if err != nil {
		t.Fatal(err)
	}
	file, err := schema.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range file.Horses {
		if h.ID == id {
			b := must(baseline.New(h))
			for _, e := range file.Exams {
				if e.Horse == id {
					must(b.Learn(e))
				}
			}
			return h, b
		}
	}
	t.Fatal("no such horse")
	return vitals.Horse{}, nil
}

// Each reading stands beside what was usual before it, so that later exams change nothing of it.
func TestPastIsNotRewritten(t *testing.T) {
	t.Parallel()
	horse, b := demo(t, "demo-juniper")
	all := b.Past(vitals.HeartRate, "", 100)
	td.Cmp(t, len(all) > 4, true)
	for n := range all {
		early := must(baseline.New(horse))
		for _, e := range b.Exams() {
			if !e.At.After(all[n].Exam.At) {
				must(early.Learn(e))
			}
		}
		past := early.Past(vitals.HeartRate, "", 100)
		last := past[len(past)-1]
		td.Cmp(t, last.Usual, all[n].Usual)
		td.Cmp(t, last.Compared, all[n].Compared)
		c, err := early.Compare(all[n].Exam)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range c.Signs {
			if s.Sign == vitals.HeartRate {
				td.Cmp(t, []any{s.Own, s.Statement, s.P}, []any{last.Compared.Own, last.Compared.Statement, last.Compared.P})
			}
		}
	}
	td.Cmp(t, len(b.Past(vitals.HeartRate, "", 3)), 3)
	td.Cmp(t, b.Past(vitals.HeartRate, "", 3)[2].Exam.ID, all[len(all)-1].Exam.ID)
}

// The chart puts a reading where its scale says, and a reader of words gets the same.
func TestHistoryChart(t *testing.T) {
	t.Parallel()
	horse, b := demo(t, "demo-juniper")
	past := b.Past(vitals.HeartRate, "", 60)
	at := past[len(past)-1].At.AddDate(0, 0, 1)
	now, ok := b.Normal(vitals.HeartRate, "", at)
	td.Cmp(t, ok, true)
	h := Told(past, &now, horse, words.English)
	wellFormed(t, h.Chart)
	if dir := os.Getenv("WHORL_SHOTS"); dir != "" {
		_ = os.WriteFile(filepath.Join(dir, "history.svg"), []byte(strings.Replace(h.Chart, "<svg ", `<svg width="656" `, 1)), 0o644)
	}
	// Two figures of the scale give its rule; the filled circles must follow it.
	ticks := regexp.MustCompile(`<text x="[0-9.]+" y="([0-9.]+)" font-size="13" text-anchor="end">([0-9]+)</text>`).FindAllStringSubmatch(h.Chart, -1)
	if len(ticks) < 3 {
		t.Fatal("no scale", h.Chart)
	}
	f := func(s string) float64 { v, _ := strconv.ParseFloat(s, 64); return v }
	y0, v0, y1, v1 := f(ticks[0][1])-4, f(ticks[0][2]), f(ticks[1][1])-4, f(ticks[1][2])
	circles := regexp.MustCompile(`<circle cx="([0-9.]+)" cy="([0-9.]+)" r="4"/>`).FindAllStringSubmatch(h.Chart, -1)
	i := 0
	for _, p := range past {
		if markOf(p) != MarkQuiet {
			continue
		}
		want := y0 + (p.Compared.Measure.Value-v0)*(y1-y0)/(v1-v0)
		td.Cmp(t, f(circles[i][2]), td.Between(want-0.3, want+0.3), "reading %d", i)
		i++
	}
	td.Cmp(t, len(circles), td.Between(i, i+1)) // one more in the legend
	td.Cmp(t, len(h.Rows), len(past))
	td.Cmp(t, h.Rows[0].Exam, past[len(past)-1].Exam.ID)
	td.Cmp(t, h.Now, td.Contains(vitals.Decimals(now.Own.Low, 0)))
}

// A work day, a sick day and a day without a label are each drawn by a shape of its own.
func TestHistoryMarks(t *testing.T) {
	t.Parallel()
	_, b := demo(t, "demo-juniper")
	past := b.Past(vitals.HeartRate, "", 60)
	past[0].Exam.Wellness = vitals.Unwell
	past[1].Exam.State.Condition = vitals.AfterWork
	past[2].Reason = baseline.LessonNotLabelled
	for i := 3; i < len(past); i++ {
		past[i].Reason, past[i].Exam.Wellness, past[i].Exam.State.Condition = "", vitals.Well, vitals.AtRest
	}
	h := Told(past, nil, b.Horse(), words.English)
	wellFormed(t, h.Chart)
	n := len(h.Rows)
	td.Cmp(t, []Mark{h.Rows[n-1].Mark, h.Rows[n-2].Mark, h.Rows[n-3].Mark, h.Rows[n-4].Mark}, []Mark{MarkSick, MarkWork, MarkOther, MarkQuiet})
	for _, m := range allMarks {
		td.Cmp(t, h.Chart, td.Contains(">"+words.Say(words.English, "history.mark."+string(m))+"<"))
	}
	td.Cmp(t, strings.Count(h.Chart, "m-5 -5l10 10"), 2)
}

// A sign that is chosen from a list has a table and no chart; nothing at all has neither.
func TestHistoryOfAnswers(t *testing.T) {
	t.Parallel()
	horse, b := demo(t, "demo-juniper")
	h := Told(b.Past(vitals.GumColour, "", 60), nil, horse, words.English)
	td.Cmp(t, h.Chart, "")
	td.Cmp(t, len(h.Rows) > 0, true)
	td.Cmp(t, h.Rows[0].Value, td.Contains("ink"))
	td.Cmp(t, Told(b.Past("no-such-sign", "", 60), nil, horse, words.English), History{})
}
