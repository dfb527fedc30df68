// Mutate breaks the code on purpose and counts what the tests miss.
//
//	go run ./.ci/mutate                        every package of vitals, baseline and schema
//	go run ./.ci/mutate -n 40 -slow 500ms      a sample of 40 mutants of each, by quick tests only
//	go run ./.ci/mutate -lived ./schema/link   and each mutant that lived
//
// The mutants are those of gremlins (github.com/go-gremlins/gremlins v0.6.0) by default, and its
// INVERT_LOGICAL. Gremlins compiles and runs every test of a package for each mutant, which would take days
// here. Mutate compiles all mutants of a package into one test binary with a switch, sees which test
// reaches which mutant, and runs only those, the quick ones first.
//
// A mutant is killed when a test fails, and nothing else counts as caught: one that runs out of processor
// time (eight times what its tests took, and three seconds) is counted apart, and the rate counts it, and one
// that no test reaches, as missed. What is judged to make no difference stands in equivalent.txt with the reason.
package main

import (
	_ "embed"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"text/tabwriter"
	"time"
)

func main() {
	sample := flag.Int("n", 0, "mutants drawn from each package; 0 is all")
	seed := flag.Uint64("seed", 1, "seed of the draw")
	slow := flag.Duration("slow", 5*time.Second, "leave out tests that take more processor time than this")
	workers := flag.Int("workers", runtime.NumCPU(), "mutants tried at once")
	threshold := flag.Float64("threshold", 0, "fail when a rate without the equivalent ones is below this percentage")
	lived := flag.Bool("lived", false, "print each mutant that was not killed")
	flag.Parse()
	patterns := flag.Args()
	if len(patterns) == 0 {
		// Not schema/internal/draw, which draws what the tests need.
		patterns = []string{"./vitals/...", "./baseline/...", "./schema", "./schema/internal/lex",
			"./schema/calendar", "./schema/fhir", "./schema/generate", "./schema/link", "./schema/pack", "./schema/sheet"}
	}
	if err := run(patterns, options{*sample, *seed, *slow, *workers, *lived}, *threshold); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

//go:embed equivalent.txt
var equivalent string

type options struct {
	sample  int
	seed    uint64
	slow    time.Duration
	workers int
	lived   bool
}

func run(patterns []string, o options, threshold float64) error {
	out, err := exec.Command("go", append([]string{"list", "-f", "{{if .GoFiles}}{{.ImportPath}}{{end}}"}, patterns...)...).Output()
	if err != nil {
		return fmt.Errorf("go list: %w", err)
	}
	equal, err := parseEquivalent(equivalent)
	if err != nil {
		return err
	}
	var rows []row
	total := row{name: "together"}
	for _, path := range strings.Fields(string(out)) {
		r, err := onePackage(path, o, equal)
		if err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		if r.tried() == 0 {
			continue
		}
		rows = append(rows, r)
		total.add(r)
	}
	w := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "package\tmutants\ttried\tkilled\tlived\ttimed out\tnot covered\trate (SE)\tequivalent\trate without (SE)\ttests left out\t")
	for _, r := range append(rows, total) {
		fmt.Fprintf(w, "%s\t%d\t%d\t%d\t%d\t%d\t%d\t%s\t%d\t%s\t%d\t\n", r.name, r.mutants, r.tried(), r.of[killed], r.of[survived],
			r.of[timedOut], r.of[notCovered], rate(r.of[killed], r.tried(), r.drawn()), r.equivalent,
			rate(r.of[killed], r.tried()-r.equivalent, r.drawn()), r.leftOut)
	}
	w.Flush()
	for _, r := range rows {
		if got := 100 * float64(r.of[killed]) / float64(r.tried()-r.equivalent); got < threshold {
			err = fmt.Errorf("%s: %.1f %% of the mutants are killed, and %.1f are wanted", r.name, got, threshold)
			fmt.Fprintln(os.Stderr, "mutate:", err)
		}
	}
	return err
}

// A row of the table. equivalent counts those not killed that are judged to make no difference.
type row struct {
	name                string
	mutants, equivalent int
	of                  [4]int
	leftOut             int
}

func (r row) tried() int { return r.of[0] + r.of[1] + r.of[2] + r.of[3] }

// drawn is which part of all mutants was tried.
func (r row) drawn() float64 { return float64(r.tried()) / float64(r.mutants) }

func (r *row) add(o row) {
	r.mutants += o.mutants
	r.equivalent += o.equivalent
	r.leftOut += o.leftOut
	for i := range r.of {
		r.of[i] += o.of[i]
	}
}

// rate is a percentage, with its standard error where only a part was drawn.
func rate(k, n int, drawn float64) string {
	if n <= 0 {
		return "-"
	}
	p := float64(k) / float64(n)
	if drawn == 1 {
		return fmt.Sprintf("%.1f", 100*p)
	}
	return fmt.Sprintf("%.1f (%.1f)", 100*p, 100*math.Sqrt(p*(1-p)/float64(n)*(1-drawn)))
}

func onePackage(path string, o options, equal map[string]bool) (row, error) {
	b, err := build(path)
	if err != nil {
		return row{}, err
	}
	defer os.RemoveAll(b.dir)
	r := row{name: path[strings.Index(path, "/")+1:], mutants: len(b.mutants)}
	if len(b.mutants) == 0 {
		return r, nil
	}
	tests, leftOut, err := b.measure(o.slow, o.workers)
	if err != nil {
		return row{}, err
	}
	r.leftOut = leftOut
	drawn := rand.New(rand.NewPCG(o.seed, uint64(len(b.mutants)))).Perm(len(b.mutants))
	if o.sample > 0 && o.sample < len(drawn) {
		drawn = drawn[:o.sample]
	}
	results := make([]outcome, len(drawn))
	each(o.workers, len(drawn), func(i int) { results[i] = b.try(drawn[i], tests) })
	for i, got := range results {
		m := b.mutants[drawn[i]]
		r.of[got]++
		note := ""
		if equal[m.key()] && got != killed {
			r.equivalent++
			note = " (judged equivalent)"
		}
		if equal[m.key()] && got == killed {
			fmt.Fprintf(os.Stderr, "mutate: judged equivalent, and killed: %s\n", m.key())
		}
		if o.lived && got != killed {
			fmt.Printf("%s%s: %s:%d: %s\n", got, note, m.file, m.line, m.key())
		}
	}
	return r, nil
}
