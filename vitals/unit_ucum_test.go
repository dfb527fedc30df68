package vitals

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

// ucumLHC is a widely used implementation of UCUM, of the US National Library of Medicine.
const ucumLHC = "@lhncbc/ucum-lhc@7.1.10"

// ucumScript converts lines of "value from to" and prints what comes out as JavaScript does.
const ucumScript = `
const utils = require("@lhncbc/ucum-lhc").UcumLhcUtils.getInstance();
const lines = require("fs").readFileSync(0, "utf8").trim().split("\n");
console.log(lines.map(line => {
  const [value, from, to] = line.split(" ");
  const got = utils.convertUnitTo(from, Number(value), to);
  return got.status === "succeeded" ? String(got.toVal) : got.status + ": " + got.msg;
}).join("\n"));
`

// ucumHome finds the package in the user's cache, installing it there if WHORL_NPM=1.
func ucumHome(t *testing.T) string {
	t.Helper()
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("node is not here; conversions are not compared with ucum-lhc")
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		cache = os.TempDir()
	}
	home := filepath.Join(cache, "whorl-checks", "ucum-lhc-7.1.10")
	if _, err := os.Stat(filepath.Join(home, "node_modules", "@lhncbc", "ucum-lhc", "package.json")); err == nil {
		return home
	}
	if os.Getenv("WHORL_NPM") != "1" {
		t.Skip("ucum-lhc is not here; WHORL_NPM=1 installs it into the cache and compares the conversions")
	}
	if err := os.MkdirAll(home, 0o755); err != nil {
		t.Fatal(err)
	}
	npm := exec.Command("npm", "install", "--no-audit", "--no-fund", "--ignore-scripts", "--prefix", home, ucumLHC)
	if out, err := npm.CombinedOutput(); err != nil {
		t.Fatalf("npm install %s: %v\n%s", ucumLHC, err, out)
	}
	return home
}

// Every value that a reading can have, at every resolution, both ways: equal to ucum-lhc
// after rounding to the places read.
//
// ucum-lhc works in binary: 38.25 Cel comes out as 100.84999999999991 [degF], and rounding
// that would turn the binary noise into a decision. Its answers are therefore read to eleven
// decimals first, which is coarser than its noise (under 1e-12 here) and finer than the
// distance of any answer from a tie (over 1e-9): what is a tie in exact arithmetic is a tie
// for both, and both then go to the even digit. No case is left out.
func TestConvertAgainstUCUM(t *testing.T) {
	t.Parallel()
	home := ucumHome(t)
	type span struct {
		from, to  Unit
		low, high string
		places    int
	}
	var spans []span
	both := func(low, high string, a, b Unit, places int) {
		for p := range places + 1 {
			lowB, _ := Convert(dec(low), a, b, p)
			highB, _ := Convert(dec(high), a, b, p)
			spans = append(spans, span{a, b, low, high, p}, span{b, a, lowB.String(), highB.String(), p})
		}
	}
	temperature, weight := mustSign(t, RectalTemperature).Span, mustSign(t, Weight).Span
	both(temperature.Low.String(), temperature.High.String(), Celsius, Fahrenheit, 3)
	both("-60", "60", Celsius, Fahrenheit, 2) // the air
	both(weight.Low.String(), weight.High.String(), Kilogram, Pound, 1)
	both("30", "300", Centimetre, Inch, 2) // girth and length

	var input bytes.Buffer
	type question struct {
		value    decimal.Decimal
		from, to Unit
		places   int
	}
	var asked []question
	for _, s := range spans {
		step := decimal.New(1, int32(-s.places))
		for v := dec(s.low); !v.GreaterThan(dec(s.high)); v = v.Add(step) {
			fmt.Fprintln(&input, v.String(), s.from, s.to)
			asked = append(asked, question{v, s.from, s.to, s.places})
		}
	}
	node := exec.Command("node", "-e", ucumScript)
	node.Dir, node.Stdin, node.Stderr = home, &input, os.Stderr
	out, err := node.Output()
	if err != nil {
		t.Fatal(err)
	}
	answers := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(answers) != len(asked) {
		t.Fatalf("%d answers to %d questions", len(answers), len(asked))
	}
	ties := 0
	for i, q := range asked {
		theirs, err := decimal.NewFromString(answers[i])
		if err != nil {
			t.Fatalf("%s %s: %s", q.value, q.from, answers[i])
		}
		ours, err := Convert(q.value, q.from, q.to, q.places)
		if err != nil {
			t.Fatal(err)
		}
		clean := theirs.Round(11)
		if clean.Shift(int32(q.places)).Mod(decimal.New(1, 0)).Abs().Equal(decimal.New(5, -1)) {
			ties++
		}
		if want := clean.RoundBank(int32(q.places)); !ours.Equal(want) {
			t.Errorf("%s %s = %s %s, ucum-lhc %s", q.value, q.from, ours, q.to, answers[i])
		}
	}
	t.Logf("%d conversions equal to ucum-lhc, %d of them ties", len(asked), ties)
}
