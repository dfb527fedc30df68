package report

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

func TestSaid(t *testing.T) {
	t.Parallel()
	mare := vitals.Horse{Sex: vitals.Mare}
	c := heart()
	c.Tail, c.Strong = 0.0004, true
	c.Printed[0].Provenance = vitals.Provenance{Source: "somewhere", Mark: vitals.Memory}
	td.Cmp(t, Said(c, nil, mare, words.English), []string{
		"Usual for her: 29 to 39 a minute.",
		"Fewer than 1 in 1000 of her quiet-day readings would be this high.",
		"It stands out even among this many signs.",
		"Based on 11 of her quiet-day exams.",
		"Published ranges: 28 to 44 a minute (somewhere; from memory, source not checked yet).",
	})
	c.Basis = baseline.Basis{Prior: []vitals.Provenance{{Source: "somewhere", Mark: vitals.Assumed}}}
	c.Statement, c.Tail, c.Strong, c.Printed = baseline.Lower, 0.021, false, nil
	td.Cmp(t, Said(c, nil, vitals.Horse{Sex: vitals.Gelding}, words.English), []string{
		"Usual for animals like him: 29 to 39 a minute.",
		"Fewer than 1 in 40 quiet-day readings of animals like him would be this low.",
		"Compared with published ranges. His own usual is not known yet. Part of this is our estimate; no published source was found.",
	})
	c.Basis = baseline.Basis{Exams: 2, Weak: true, Prior: []vitals.Provenance{{Source: "somewhere", Mark: vitals.Read}}}
	c.Statement = baseline.AsUsual
	c.Settle = &baseline.Settle{Advice: baseline.SettleCount, Chance: 0.32}
	td.Cmp(t, Said(c, nil, vitals.Horse{}, words.English), []string{
		"Usual for it: 29 to 39 a minute.",
		"Based on 2 of its quiet-day exams and on published ranges.",
		"Count a full minute to be sure. There is a 3 in 10 chance that this changes the answer.",
	})
}

func TestSentencesHaveTheirKinds(t *testing.T) {
	t.Parallel()
	c := heart()
	c.Tail, c.Strong = 0.0004, true
	c.Settle = &baseline.Settle{Advice: baseline.SettleCount, Chance: 0.32}
	for _, lang := range words.Langs() {
		var kinds []SentenceKind
		for _, s := range Sentences(c, nil, vitals.Horse{}, lang) {
			kinds = append(kinds, s.Kind)
			form, _, _ := strings.Cut(words.Say(lang, "said.printed"), "{")
			td.Cmp(t, s.Kind == SaysPublished, strings.HasPrefix(s.Text, form), s.Text)
		}
		td.Cmp(t, kinds, []SentenceKind{SaysUsual, SaysRarity, SaysRarity, SaysBasis, SaysPublished, SaysMeasure}, lang)
	}
}

func TestSaidGraded(t *testing.T) {
	t.Parallel()
	mare := vitals.Horse{Sex: vitals.Mare}
	c := baseline.Compared{Sign: vitals.GutSounds, Site: "gut-upper-right", Chosen: []vitals.GradeID{"none"}, Statement: baseline.Differs,
		Usual: []vitals.GradeID{"usual"}, UsualSeen: 10, Basis: baseline.Basis{Exams: 11}}
	td.Cmp(t, Said(c, nil, mare, words.English)[1:], []string{"None of her 11 quiet-day exams showed this.", "Based on 11 of her quiet-day exams."})
	c.Seen, c.Basis.Exams = 1, 1
	td.Cmp(t, Said(c, nil, mare, words.English)[1], "Her only quiet-day exam showed this, or something as unusual.")
}

func TestOneIn(t *testing.T) {
	t.Parallel()
	for p, want := range map[float64]int{0: 1000, 0.0009: 1000, 0.001: 500, 0.0049: 200, 0.005: 100, 0.024: 40, 0.025: 30, 0.3: 2} {
		n := oneIn(p)
		td.Cmp(t, n, want, p)
		td.CmpTrue(t, p < 1/float64(n), "fewer than 1 in n holds")
	}
}

func TestHeading(t *testing.T) {
	t.Parallel()
	in := badNight()
	mare := in.Horse
	td.Cmp(t, Heading(Input{Horse: mare, Comparison: in.Comparison}, words.English),
		"Call your vet now. Four things are not usual for Juniper, and neither is the exam as a whole; 2 signs were not checked.")
	in.Comparison.Alarms, in.Comparison.Overall.Unusual = nil, false
	in.Comparison.Signs = in.Comparison.Signs[4:5]
	td.Cmp(t, Heading(Input{Horse: mare, Comparison: in.Comparison}, words.English),
		"Only 1 sign was checked; what was compared is in the usual range for Juniper; 2 signs were not checked.")
	in.Comparison.Overall.Unusual = true
	td.Cmp(t, Heading(Input{Horse: mare, Comparison: in.Comparison}, words.English), td.HasPrefix("Each finding alone is usual for Juniper, but together they are not"))
	td.Cmp(t, Heading(Input{Horse: mare, Comparison: baseline.Comparison{}}, words.English), "Nothing was compared.")
	first := baseline.Comparison{Signs: []baseline.Compared{{Statement: baseline.Higher}}}
	td.Cmp(t, Heading(Input{Horse: vitals.Horse{}, Comparison: first}, words.English),
		"One thing is not usual for animals like this animal. Its own usual is not known yet.")
}

// Every key that the package says, and every one that a comparison may hold, has words.
func TestWords(t *testing.T) {
	t.Parallel()
	var keys []string
	dotted := regexp.MustCompile(`^(number|weekday|month|date|list|amount|how|heading|said|report|ruler|settle|warning|lesson)\.[a-z0-9.-]*[a-z0-9]$|^clock$`)
	for _, dir := range []string{".", ".."} {
		names, err := filepath.Glob(dir + "/*.go")
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					if s, err := strconv.Unquote(lit.Value); err == nil && dotted.MatchString(s) {
						keys = append(keys, s)
					}
				}
				return true
			})
		}
	}
	td.Cmp(t, len(keys), td.Gt(80), "the scan finds keys")
	all := func(prefix string, ids ...string) {
		for _, id := range ids {
			keys = append(keys, prefix+id)
		}
	}
	for _, x := range vitals.Units() {
		all("amount.", string(x))
	}
	for _, x := range vitals.Devices() {
		all("how.device.", string(x))
	}
	for _, x := range append(vitals.Rhythms(), "one-gap", "gaps") {
		all("how.rhythm.", string(x))
	}
	for _, x := range vitals.Courses() {
		all("report.course.", string(x))
	}
	for _, x := range vitals.Asks() {
		all("report.ask.", string(x))
	}
	for _, x := range vitals.Absences() {
		all("report.absent.", string(x))
		all("absence.", string(x))
	}
	for _, x := range vitals.Types() {
		all("report.type.", string(x))
	}
	for _, x := range allParts {
		all("report.", string(x))
	}
	for _, how := range []string{"date.", "report.since.", "report.given."} {
		all(how, "today", "week", "year", "far")
	}
	all("mark.", "read", "second-hand", "memory", "derived", "common-practice", "assumed")
	all("weekday.", "0", "1", "2", "3", "4", "5", "6")
	all("month.", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12")
	for i := range 13 {
		all("number.", strconv.Itoa(i))
	}
	for key := range words.Keys(words.English) {
		if id, brief := strings.CutPrefix(key, "brief."); brief {
			_, known := vitals.Lookup(vitals.SignID(id))
			td.CmpTrue(t, known, key)
		}
	}
	ours := regexp.MustCompile(`^(heading|said|report|ruler|settle|warning|lesson|how|amount|date|list)\.`)
	for key := range words.Keys(words.English) {
		plain := strings.TrimSuffix(strings.TrimSuffix(key, ".0"), ".1")
		if ours.MatchString(key) && !slices.Contains(keys, key) && !slices.Contains(keys, plain) {
			t.Errorf("nothing says %s", key)
		}
	}
	for _, lang := range words.Langs() {
		for _, key := range keys {
			td.CmpTrue(t, words.Has(lang, key), "%s: %s", lang, key)
		}
	}
}
