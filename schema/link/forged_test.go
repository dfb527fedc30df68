package link

import (
	"encoding/json"
	"errors"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/baseline/watch"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// forgery is what a forger would have our page say. No message of ours has it.
const forgery = "Zqx has checked this horse"

// nightSent is a bad night with its rechecks, as it is sent.
func nightSent(t *testing.T) Sent {
	exam, c := compared(t, 12)
	exam.Purpose = vitals.Recheck
	var run []vitals.Exam
	for i := range 4 {
		e := exam
		e.ID, e.At = vitals.ID("look-"+string(rune('1'+i))), exam.At.Add(time.Duration(i-4)*20*time.Minute)
		run = append(run, e)
	}
	b, err := baseline.New(bramble)
	td.Require(t).CmpNoError(err)
	return New(bramble, exam, &c).With(watch.Last(b, append(run, exam)))
}

// everything is all that is said of what was received, in a language; the call report, which takes longest, if whole.
func everything(t *testing.T, s Sent, lang words.Lang, whole bool) []string {
	c, err := s.Comparison()
	if err != nil {
		td.Cmp(t, errors.As(err, new(vitals.Faults)), true, err)
		return nil
	}
	in := report.Input{Horse: s.Horse, Exam: s.Exam, Comparison: c, Watched: s.Watched()}
	said := append([]string{report.Heading(in, lang)}, report.Remarks(c, s.Horse, lang)...)
	if whole {
		said = append(said, report.Call(in, lang).Text())
	}
	for _, x := range c.Signs {
		said = append(append(said, report.Said(x, c.Alarms, s.Horse, lang)...), report.Ruler(x, lang))
		if sign, _ := vitals.Lookup(x.Sign); sign.Span != nil && x.Own != nil {
			low, high := sign.Span.Low.InexactFloat64(), sign.Span.High.InexactFloat64()
			td.Cmp(t, x.Own.Mid, td.Between(low, high), "%s", x.Sign)
			td.Cmp(t, x.Own.Low <= x.Own.Mid && x.Own.Mid <= x.Own.High && x.Own.High <= 2*high, true, "%s: %v", x.Sign, *x.Own)
		}
	}
	for _, w := range in.Watched {
		said = append(append(said, w.Say(lang)...), report.Course(w, lang))
		sign, _ := vitals.Lookup(w.Sign)
		for _, p := range w.Points {
			td.Cmp(t, sign.Span == nil || inSpan(sign, p.Value), true, "%s: %v", w.Sign, p.Value)
		}
	}
	return said
}

// A forger has the code of this page and writes what he likes into every place of what rests on the history: texts, keys, letters,
// numbers. Whatever is not refused is told without a panic, within the catalogue's bounds, and without a sentence of his; what the exam
// itself says (who calls, what was noticed) is the sender's by its place, and is not changed here.
func TestForgedLinksDoNotSpeakForUs(t *testing.T) {
	t.Parallel()
	n := 10_000
	if os.Getenv("WHORL_LONG") != "" {
		n *= 10
	}
	if testing.Short() { // as under node, ten times slower
		n = 400
	}
	record, err := schema.Marshal(nightSent(t))
	td.Require(t).CmpNoError(err)
	keys := append(factKeys(), "heading.nothing", "report.differs.none", "warning.medicated", "pack.alarm", "fault.taps-few", "later.version", forgery)
	refused, told, marked := 0, 0, 0
	for seed := range uint64(n) {
		runtime.Gosched() // lets the collector work where there is one thread
		chance := rand.New(rand.NewPCG(seed, 17))
		var tree map[string]any
		td.Require(t).CmpNoError(json.Unmarshal(record, &tree))
		for range 1 + chance.IntN(3) {
			part := []string{"rests", "rests", "rests", "course"}[chance.IntN(4)]
			mutate(chance, tree[part].(map[string]any), keys)
		}
		forged, err := json.Marshal(tree)
		td.Require(t).CmpNoError(err)
		s, err := Read(Fragment(forged))
		if err != nil {
			td.Cmp(t, errors.As(err, new(vitals.Faults)), true, err)
			refused++
			continue
		}
		told++
		lang := words.Langs()[seed%2]
		all := everything(t, s, lang, told%4 == 0 || os.Getenv("WHORL_LONG") != "")
		for _, text := range all {
			if strings.Contains(text, "Zqx") && !strings.Contains(text, "“"+forgery) {
				t.Fatalf("seed %d: %s", seed, text)
			}
			for _, never := range []string{words.Say(lang, "report.differs.none", "sex", string(vitals.Gelding)),
				words.Say(lang, "heading.nothing", "name", "Bramble"), "pack.alarm", "later version", "later.version."} {
				if strings.Contains(text, never) {
					t.Fatalf("seed %d: %s", seed, text)
				}
			}
		}
		c, _ := s.Comparison()
		if len(c.Warnings) > 0 && c.Warnings[0].Key == baseline.WarnSent {
			marked++
		}
		b, err := baseline.New(s.Horse)
		td.Require(t).CmpNoError(err)
		own, err := b.Compare(s.Exam)
		td.Require(t).CmpNoError(err)
		for _, f := range own.Alarms {
			td.Cmp(t, slices.ContainsFunc(c.Alarms, func(o vitals.Fired) bool { return o.Alarm == f.Alarm }), true, "%s is worked out anew", f.Alarm)
		}
	}
	td.Cmp(t, marked, told, "what rests on a history is marked")
	t.Logf("%d forged links: %d refused, %d told", n, refused, told)
	td.Cmp(t, told > n/20 && refused > n/4, true, "both are tried")
}

// factKeys are the keys of warnings as they are sent.
func factKeys() []string {
	return []string{"no-exams", "few-exams", "not-seen", "site-changed", "new-usual", "ask-higher", "odd-days", "trend", "among", "device-changed",
		"watch.earlier", "watch.uneven"}
}

// mutate changes one place of a column: a number, a text, a letter of a text, an entry left out or taken twice.
func mutate(chance *rand.Rand, columns map[string]any, keys []string) {
	names := slices.Sorted(func(yield func(string) bool) {
		for name := range columns {
			if !yield(name) {
				return
			}
		}
	})
	name := names[chance.IntN(len(names))]
	columns[name] = changed(chance, columns[name], keys)
}

func changed(chance *rand.Rand, v any, keys []string) any {
	numbers := []float64{0, 1, -1, 5, 12, 40, 1000, 4000, 26_001, 90_000, 1_000_000, 1_000_001, 1e9, 9e15}
	switch v := v.(type) {
	case float64:
		return numbers[chance.IntN(len(numbers))]
	case string:
		if len(v) > 1 && chance.IntN(2) == 0 {
			letters := "uUhlLdDnfxw-rftkbs"
			at := chance.IntN(len(v))
			return v[:at] + letters[chance.IntN(len(letters)):][:1] + v[at+1:]
		}
		return append(keys, "3", "40", "900", "jaw", forgery)[chance.IntN(len(keys)+5)]
	case []any:
		if len(v) == 0 || chance.IntN(12) == 0 {
			return append(slices.Clone(v), []any{"", keys[chance.IntN(len(keys))], "n", "3"})
		}
		v = slices.Clone(v)
		at := chance.IntN(len(v))
		v[at] = changed(chance, v[at], keys)
		return v
	}
	return v
}

// A column set to "as usual" is worked out again from what the link itself holds, and never said as ours.
func TestAColumnOfUsualIsNotBelieved(t *testing.T) {
	t.Parallel()
	exam, c := compared(t, 12)
	exam.Purpose, exam.Wellness, exam.Story = vitals.Routine, vitals.Well, nil
	s := New(bramble, exam, &c)
	s.Rests.Says = strings.Repeat("u", len(s.Rests.Says))
	back, err := s.Comparison()
	td.Require(t).CmpNoError(err)
	for _, x := range back.Signs {
		if x.Sign == vitals.HeartRate {
			td.Cmp(t, x.Statement, baseline.Higher, "56 a minute, and 31 to 38 sent")
		}
	}
	for _, lang := range words.Langs() {
		in := report.Input{Horse: bramble, Exam: exam, Comparison: back}
		text := strings.Join(strings.Fields(report.Call(in, lang).Text()), " ")
		mark := words.Say(lang, "warning.sent", "sex", "gelding", "by", "“Rowan”")
		td.Cmp(t, text, td.Contains(mark))
		td.Cmp(t, report.Remarks(back, bramble, lang), td.Contains(mark))
	}
}
