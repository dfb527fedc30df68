package main

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"whorl.example/wasm"
)

// The benchmark of the comparison itself, from exams in memory as in baseline, compiled as the core is and run in Chromium slowed
// four times. Printed beside the limits, and not a test of them: the machine decides.
//
//	WHORL_SPEED=1 go test ./wasm/site -run ChromiumBench -v
func TestChromiumBench(t *testing.T) {
	if os.Getenv("WHORL_SPEED") == "" {
		t.Skip("a measurement, to be made on an idle machine: WHORL_SPEED=1, as .ci/test does at its end")
	}
	module, err := wasm.BuildTests("../..", "./baseline")
	if err != nil {
		t.Fatal(err)
	}
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	loader := filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", "wasm_exec.js")
	files := http.NewServeMux()
	files.HandleFunc("/", func(w http.ResponseWriter, _ *http.Request) {
		fmt.Fprint(w, `<!doctype html><meta charset="utf-8"><title>Benchmark</title><script src="loader.js"></script>`)
	})
	files.HandleFunc("/loader.js", func(w http.ResponseWriter, r *http.Request) { http.ServeFile(w, r, loader) })
	files.HandleFunc("/tests.wasm", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/wasm")
		_, _ = w.Write(module)
	})
	server := httptest.NewServer(files)
	t.Cleanup(server.Close)
	p := newPhone(t, browser(t), server.URL)
	p.until("globalThis.Go")
	_, err = chromedp.Call(p.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4})
	p.must(err)
	out := eval[string](p, `(async () => {
		const lines = [], log = console.log; console.log = line => lines.push(line);
		const go = new Go(); go.argv = ['tests', '-test.run=^$', '-test.bench=Compare/(warm|raw)', '-test.benchtime=100x'];
		await go.run((await WebAssembly.instantiateStreaming(fetch('tests.wasm'), go.importObject)).instance);
		console.log = log; return lines.join('\n'); })()`)
	if !strings.Contains(out, "BenchmarkCompare/raw/200") || !strings.HasSuffix(strings.TrimSpace(out), "PASS") {
		t.Fatalf("the benchmark says:\n%s", out)
	}
	t.Logf("in Chromium slowed four times; limit of raw/200 50 ms:\n%s", out)
}
