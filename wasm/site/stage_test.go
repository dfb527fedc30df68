package main

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/evanw/esbuild/pkg/api"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/wasm/checks"
)

// pageSays runs an expression of the page's own modules under node, on what it is given as JSON.
func pageSays(t *testing.T, imports, expression string, given any) []byte {
	t.Helper()
	root, err := moduleRoot()
	if err != nil {
		t.Fatal(err)
	}
	node := checks.Node(t)
	result := api.Build(api.BuildOptions{
		Stdin: &api.StdinOptions{Contents: imports + "\nlet text = ''; process.stdin.on('data', d => { text += d; }).on('end', () => " +
			"console.log(JSON.stringify(JSON.parse(text).map(" + expression + "))));", ResolveDir: filepath.Join(root, "wasm", "page", "src"), Loader: api.LoaderTS},
		Bundle: true, Format: api.FormatIIFE, Platform: api.PlatformNode, Define: map[string]string{"WAITS": quote(makeWaits())},
	})
	if err := told("stdin", result.Errors); err != nil {
		t.Fatal(err)
	}
	input, err := json.Marshal(given)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "-e", string(result.OutputFiles[0].Contents))
	cmd.Stdin, cmd.Env = bytes.NewReader(input), append(cmd.Environ(), "TZ=UTC")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// somebody is a random animal around a moment: of every age, often within a day of the edge of a stage.
func somebody(chance *rand.Rand, at time.Time) vitals.Horse {
	pick := func(n int) int { return chance.IntN(n) }
	h := vitals.Horse{ID: "h", Name: "H", Type: vitals.Types()[pick(len(vitals.Types()))], Sex: append(vitals.Sexes(), "")[pick(4)]}
	edges := []time.Time{at, at.AddDate(0, 0, -7), at.AddDate(0, -6, 0), at.AddDate(-1, 0, 0), at.AddDate(-2, 0, 0), at.AddDate(-3, 0, 0), at.AddDate(-20, 0, 0)}
	switch born := edges[pick(len(edges))].Add(time.Duration(pick(72)-48) * time.Hour); pick(5) {
	case 0:
	case 1:
		h.Born, h.BornYearOnly = vitals.Date{Year: born.Year(), Month: 1, Day: 1}, true
	case 2:
		h.Born, h.BornAt = vitals.DateOf(born), born
	default:
		h.Born = vitals.DateOf(born)
	}
	if h.Sex == vitals.Mare {
		h.InFoal = pick(3) == 0
		if pick(2) == 0 {
			h.FoaledAt = at.Add(-time.Duration(pick(24*220)-12) * time.Hour)
		}
	}
	return h
}

// The page knows before the core has arrived, and by the same rules, of which animal a sign is asked, which red flag is
// offered, and what to do while waiting.
func TestThePageAsksOfTheSameAnimals(t *testing.T) {
	t.Parallel()
	type asked struct {
		Horse vitals.Horse `json:"horse"`
		Exam  vitals.Exam  `json:"exam"`
	}
	type answer struct {
		Stage string
		Signs []vitals.SignID
		Flags []vitals.FlagID
		Waits []vitals.WaitID
	}
	chance := rand.New(rand.NewPCG(14, 0))
	var list []asked
	for range 4000 {
		at := time.Date(2026, time.Month(1+chance.IntN(12)), 1+chance.IntN(28), chance.IntN(24), 0, 0, 0, time.UTC)
		state := vitals.State{Condition: vitals.Conditions()[chance.IntN(len(vitals.Conditions()))]}
		if state.Condition != vitals.AtRest && chance.IntN(2) == 0 && state.Condition != vitals.AfterWork {
			state = vitals.State{Condition: vitals.AfterWork, Also: []vitals.Condition{state.Condition}}
		}
		list = append(list, asked{somebody(chance, at), vitals.Exam{ID: "e", Horse: "h", At: at, State: state}})
	}
	root, err := moduleRoot()
	if err != nil {
		t.Fatal(err)
	}
	book, err := makeBook()
	if err != nil {
		t.Fatal(root, err)
	}
	var got []answer
	out := pageSays(t, "import { lifeStageAt, signApplies, flagApplies } from './exam/lifestage'; import { adviceWhileWaiting } from './exam/waiting';\nconst book = "+string(book)+";",
		`({ horse, exam }) => ({ stage: lifeStageAt(horse, exam.at) ?? '', signs: book.signs.filter(s => signApplies(s, horse, exam)).map(s => s.id),
			flags: book.redFlags.filter(f => flagApplies(f, horse, exam.at)).map(f => f.id), waits: adviceWhileWaiting(book, ['belly'], horse, exam.at) })`, list)
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	stages := map[string]int{}
	for i, q := range list {
		stage, known := q.Horse.StageAt(q.Exam.At)
		if !known {
			stage = ""
		}
		stages[string(stage)]++
		want := answer{Stage: string(stage)}
		for _, s := range vitals.Catalogue() {
			if s.For(q.Horse, q.Exam) {
				want.Signs = append(want.Signs, s.ID)
			}
		}
		for _, f := range vitals.RedFlags() {
			if f.For(q.Horse, q.Exam.At) {
				want.Flags = append(want.Flags, f.ID)
			}
		}
		for _, w := range vitals.WhileWaiting(q.Horse, q.Exam.At, vitals.ProblemBelly) {
			want.Waits = append(want.Waits, w.ID)
		}
		if !td.Cmp(t, got[i], want, "%+v at %s", q.Horse, q.Exam.At) {
			return
		}
	}
	td.Cmp(t, len(stages), len(vitals.Stages())+1, "every stage, and none known")

	// Of an animal that nobody has named, nobody is told what harms one of them.
	var none [][]vitals.WaitID
	out = pageSays(t, "import { adviceWhileWaiting } from './exam/waiting';\nconst book = "+string(book)+";", "p => adviceWhileWaiting(book, [p], undefined, '2026-06-01T12:00:00Z')", vitals.Problems())
	if err := json.Unmarshal(out, &none); err != nil {
		t.Fatal(err)
	}
	for i, p := range vitals.Problems() {
		for _, kind := range vitals.Types() {
			for _, days := range []int{-2, -2000} {
				at := time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)
				h := vitals.Horse{Type: kind, Born: vitals.DateOf(at.AddDate(0, 0, days))}
				for _, id := range none[i] {
					if !slices.ContainsFunc(vitals.WhileWaiting(h, at, p), func(w vitals.Wait) bool { return w.ID == id }) {
						t.Errorf("%s of an animal without a name: %s, which is not for %v", p, id, h)
					}
				}
			}
		}
		if strings.Contains(quote(none[i]), "feed-away") {
			t.Errorf("%s: feed taken away from an animal that may have to eat", p)
		}
	}
}
