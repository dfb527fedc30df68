package link

import (
	"encoding/json"
	"errors"
	"math/rand/v2"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// anAnswer is one as a clinic writes it.
func anAnswer() Answer {
	at := time.Date(2026, time.May, 3, 1, 20, 0, 0, time.UTC)
	return Answer{Exam: "e-1", Words: "AFGHKLZ", At: at, By: "Dr. Amalia Fern", Advice: "Walk her in hand.\nNo feed until I call.",
		Again: "she rolls, or the heart is over 56", Next: at.Add(40 * time.Minute)}
}

// An answer comes back as it was written, by link and by code, and is no exam; nor is an exam an answer.
func TestAnswerComesBack(t *testing.T) {
	t.Parallel()
	a := anAnswer()
	plain, err := a.Fragment()
	td.Require(t).CmpNoError(err)
	dense, err := a.Code()
	td.Require(t).CmpNoError(err)
	td.Cmp(t, plain, td.HasPrefix("a1="))
	td.Cmp(t, dense, td.HasPrefix("A1:"))
	for _, f := range []string{plain, "#" + plain, dense} {
		back, err := ReadAnswer(f)
		td.Require(t).CmpNoError(err)
		td.Cmp(t, back, a)
		_, err = Read(f)
		td.CmpErrorIs(t, err, ErrForeign)
	}
	_, err = ReadAnswer(Fragment([]byte("{}")))
	td.CmpErrorIs(t, err, ErrForeign)
	_, err = ReadAnswer("a2=AAAA")
	td.CmpErrorIs(t, err, ErrNewer)
	_, err = ReadAnswer("a1=" + strings.Repeat("A", maxAnswer))
	td.CmpErrorIs(t, err, ErrLarge)
	for i := range plain[3:] {
		other := byte('A')
		if plain[3+i] == 'A' {
			other = 'B'
		}
		if _, err := ReadAnswer(plain[:3+i] + string(other) + plain[4+i:]); !errors.Is(err, ErrCut) {
			t.Errorf("character %d changed: %v", i, err)
		}
	}
}

// The longest answer has a code that a camera reads; what is longer, and what has no place in a text, is refused at its place.
func TestAnswerIsBounded(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		change func(*Answer)
		want   string
	}{
		{func(a *Answer) { a.Exam = "" }, "empty /exam"},
		{func(a *Answer) { a.Exam = "a/b" }, "bad-id /exam"},
		{func(a *Answer) { a.Words = "alfa" }, "unknown-answer /words"},
		{func(a *Answer) { a.By = " " }, "missing-text /by"},
		{func(a *Answer) { a.By = "Fern\nWhorl says" }, "control-character /by"},
		{func(a *Answer) { a.Advice = "" }, "missing-text /advice"},
		{func(a *Answer) { a.Advice = strings.Repeat("é", MaxAdvice+1) }, "too-long /advice"},
		{func(a *Answer) { a.Advice = strings.Repeat("a\n", maxLines) + "b" }, "control-character /advice"},
		{func(a *Answer) { a.Advice = "a\x00b" }, "bad-text /advice"},
		{func(a *Answer) { a.Advice = "a\x1b[2Jb" }, "control-character /advice"},
		{func(a *Answer) { a.Advice = "a\u2028b" }, "control-character /advice"},
		{func(a *Answer) { a.Advice = "walk \u202eton od" }, "control-character /advice"},
		{func(a *Answer) { a.Again = "\u2066she rolls" }, "control-character /again"},
		{func(a *Answer) { a.Again = strings.Repeat("a", MaxAgain+1) }, "too-long /again"},
		{func(a *Answer) { a.Next = a.At }, "impossible-time /next"},
		{func(a *Answer) { a.Next = a.At.Add(maxNext + time.Second) }, "impossible-time /next"},
	} {
		a := anAnswer()
		c.change(&a)
		_, err := a.Fragment()
		faults, _ := errors.AsType[vitals.Faults](err)
		td.Require(t).Cmp(faults, td.Len(1), c.want)
		td.Cmp(t, string(faults[0].Code)+" "+faults[0].Path, c.want)
	}
	a := anAnswer()
	// Words without a pattern, of small letters and accents: harder to deflate than any advice.
	chance := rand.New(rand.NewPCG(1, 1))
	letters := []rune("abcdefghijklmnopqrstuvwxyzáéíóúñ ,.0123456789")
	random := func(n int) string {
		var b strings.Builder
		for range n {
			b.WriteRune(letters[chance.IntN(len(letters))])
		}
		return b.String()
	}
	a.Advice, a.Again, a.By = random(MaxAdvice), random(MaxAgain), random(vitals.MaxName)
	dense, err := a.Code()
	td.Require(t).CmpNoError(err)
	d, err := Draw("https://yard.example/whorl/", dense)
	td.Require(t).CmpNoError(err)
	t.Logf("%d characters, version %d-%s", len(dense), d.Version, d.Level)
}

// A forger has the code of this page. Whatever of his answers is not refused is text within the bounds: no control, nothing that turns
// letters around, no time that cannot be, and nothing beside what was written; and it is read again as the same.
func TestForgedAnswers(t *testing.T) {
	t.Parallel()
	n := 10_000
	if os.Getenv("WHORL_LONG") != "" {
		n *= 10
	}
	if testing.Short() {
		n = 400
	}
	record, err := schema.Marshal(anAnswer())
	td.Require(t).CmpNoError(err)
	hostile := []any{"", " ", "tel:+1900", "<img src=x onerror=alert(1)>", "\u202etsil", strings.Repeat("W", 5000), strings.Repeat("a\n", 400), "\x00", "\x1b[2J", "\u2028", "Zqx\u0301\u0301",
		"2026-05-03T01:20:00Z", "9999-12-31T00:00:00Z", "0001-01-01T00:00:00Z", "ALFA", "../../x", "e 1", 12.0, true, nil, []any{}, map[string]any{"closedAt": "x"}, "call"}
	names := []string{"exam", "words", "at", "by", "advice", "again", "next", "phone", "call", "closedAt", "number"}
	refused, told := 0, 0
	for seed := range uint64(n) {
		runtime.Gosched()
		chance := rand.New(rand.NewPCG(seed, 41))
		var tree map[string]any
		td.Require(t).CmpNoError(json.Unmarshal(record, &tree))
		for range 1 + chance.IntN(3) {
			name := names[chance.IntN(len(names))]
			switch old, ok := tree[name].(string); {
			case chance.IntN(8) == 0:
				delete(tree, name)
			case ok && chance.IntN(2) == 0:
				runes := []rune(old)
				at := chance.IntN(len(runes) + 1)
				extra := string(rune(chance.IntN(0x3000)))
				tree[name] = string(runes[:at]) + extra + string(runes[at:])
			default:
				tree[name] = hostile[chance.IntN(len(hostile))]
			}
		}
		forged, err := json.Marshal(tree)
		td.Require(t).CmpNoError(err)
		fragment := Fragment(forged)
		a, err := ReadAnswer("a" + fragment[1:])
		if err != nil {
			td.Cmp(t, errors.As(err, new(vitals.Faults)), true, err)
			refused++
			continue
		}
		told++
		for text, most := range map[string]int{a.By: vitals.MaxName, a.Advice: MaxAdvice, a.Again: MaxAgain} {
			bad := func(r rune) bool {
				return r != '\n' && unicode.IsControl(r) || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069
			}
			if utf8.RuneCountInString(text) > most || strings.ContainsFunc(text, bad) || strings.Count(text, "\n") >= maxLines {
				t.Fatalf("seed %d: %q", seed, text)
			}
		}
		td.Cmp(t, strings.Contains(a.By, "\n"), false, "seed %d", seed)
		td.Cmp(t, a.Next.IsZero() || a.Next.After(a.At) && a.Next.Sub(a.At) <= maxNext, true, "seed %d", seed)
		again, err := a.Fragment()
		td.Require(t).CmpNoError(err, "seed %d", seed)
		back, err := ReadAnswer(again)
		td.Require(t).CmpNoError(err)
		td.Cmp(t, back, a)
	}
	t.Logf("%d forged answers: %d refused, %d told", n, refused, told)
	td.Cmp(t, told > n/20 && refused > n/4, true, "both are tried")
}
