package main

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/wasm/internal/barn"
)

// How long the core takes in Chromium slowed four times, as a telephone of some years is: the comparison of an exam
// with 200 others by the page's own call, the first time and again, and what the barn's list asks of thirty horses with
// ten years of exams each. Printed beside the limits, and not a test of them: the machine decides.
//
//	WHORL_SPEED=1 go test ./wasm/site -run ChromiumSpeed -v
func TestChromiumSpeed(t *testing.T) {
	if os.Getenv("WHORL_SPEED") == "" {
		t.Skip("a measurement, to be made on an idle machine: WHORL_SPEED=1, as .ci/test does at its end")
	}
	p := newPhone(t, browser(t), serve(t))
	p.until("globalThis.whorlCall")
	_, err := chromedp.Call(p.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4})
	p.must(err)
	eval[bool](p, `(globalThis.times = (op, text, n) => { const out = []; for (let i = 0; i < n; i++) { const t = performance.now();
		const a = whorlCall(op, text); out.push(performance.now() - t); if (!a.startsWith('{"ok":true')) throw a.slice(0, 300); } return out; }, true)`)
	ask := func(op string, q any, n int) []float64 {
		text, err := schema.Marshal(q)
		p.must(err)
		quoted, _ := json.Marshal(string(text))
		return eval[[]float64](p, fmt.Sprintf("times(%q, %s, %d)", op, quoted, n))
	}
	ask("remember", struct {
		On bool `json:"on"`
	}{true}, 1)
	h := vitals.Horse{ID: "h1", Name: "Juniper", Type: vitals.TypeHorse}
	history := func(n, everyDays int) []vitals.Exam {
		rng := rand.New(rand.NewPCG(200, 1))
		exams := make([]vitals.Exam, n)
		for i := range exams {
			exams[i] = barn.Exam(rng, h.ID, i, everyDays)
		}
		return exams
	}
	exams := history(201, 3)
	night := exams[200]
	night.Purpose, night.Wellness = vitals.Concern, vitals.Unwell
	q := struct {
		Horse vitals.Horse  `json:"horse"`
		Exams []vitals.Exam `json:"exams"`
		Exam  vitals.Exam   `json:"exam"`
	}{h, exams[:200], night}
	ask("compare", struct {
		Horse vitals.Horse `json:"horse"`
		Exam  vitals.Exam  `json:"exam"`
	}{h, night}, 1) // compiled
	check := ask("check", struct {
		Horse vitals.Horse `json:"horse"`
		Exam  vitals.Exam  `json:"exam"`
	}{h, night}, 3)
	took := ask("compare", q, 4)
	t.Logf("compare from the text of 200 exams of 25 findings: first %.0f ms, again %s ms (one exam checked: %.1f ms); limit 50 ms", took[0], figures(took[1:]), check[2])

	total, again := 0.0, 0.0
	for i := range 30 {
		h.ID = vitals.ID(fmt.Sprintf("h%d", i))
		took := ask("known", struct {
			Horse vitals.Horse  `json:"horse"`
			Exams []vitals.Exam `json:"exams"`
			At    string        `json:"at"`
		}{h, history(120, 30), "2036-01-01T08:00:00Z"}, 2)
		total, again = total+took[0], again+took[1]
	}
	t.Logf("known of 30 horses, ten years, an exam a month: %.0f ms the first time, %.0f again; limit 1000 ms", total, again)
}

func figures(xs []float64) string {
	var out []string
	for _, x := range xs {
		out = append(out, fmt.Sprintf("%.0f", x))
	}
	return strings.Join(out, " ")
}
