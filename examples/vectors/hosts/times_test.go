package hosts_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"
	"github.com/tetratelabs/wazero"

	"whorl.example/examples/wasi/reactor"
	"whorl.example/wasm"
	"whorl.example/wasm/api"
)

// asked is what the hosts are timed with: a call that does nothing, ten taps, an exam.
type asked struct{ Op, Request string }

// each is for how long each call is repeated in each host.
const each = time.Second

// timed repeats a call and gives microseconds a call.
func timed(call func() error) (float64, error) {
	for range 3 {
		if err := call(); err != nil {
			return 0, err
		}
	}
	n := 0
	begin := time.Now()
	for time.Since(begin) < each {
		if err := call(); err != nil {
			return 0, err
		}
		n++
	}
	return float64(time.Since(begin).Nanoseconds()) / 1000 / float64(n), nil
}

// inJSTimed does the same in JavaScript.
const inJSTimed = `
async function times(load, all) {
  const whorl = await load();
  const out = [];
  for (const { Op, Request } of all) {
    for (let i = 0; i < 3; i++) await whorl.callText(Op, Request);
    let n = 0;
    const begin = performance.now();
    while (performance.now() - begin < 1000) { await whorl.callText(Op, Request); n++; }
    out.push((performance.now() - begin) * 1000 / n);
  }
  return out;
}
`

// BenchmarkHosts times calls of the core natively and in the hosts of its WebAssembly, in
// one run, and prints the table of .ci/MEASURED.md:
//
//	go test ./examples/vectors/hosts -bench Hosts -benchtime 1x -run '^$'
func BenchmarkHosts(b *testing.B) {
	record, err := os.ReadFile("../../assess/testdata/record.json")
	td.Require(b).CmpNoError(err)
	all := []asked{
		{"version", "{}"},
		{"taps", `{"sign":"heart-rate","atMs":[0,1650,3310,4990,6620,8310,9950,11640,13280,14990]}`},
		{"compare", string(record)}, {"report", string(record)},
	}
	input, err := json.Marshal(all)
	td.Require(b).CmpNoError(err)
	dir, err := library()
	td.Require(b).CmpNoError(err)
	for b.Loop() {
		table := map[string][]float64{"native Go": make([]float64, len(all)), "wazero": make([]float64, len(all))}
		host := openReactor(b)
		for i, a := range all {
			table["native Go"][i], err = timed(func() error { api.Call(a.Op, []byte(a.Request)); return nil })
			td.Require(b).CmpNoError(err)
			table["wazero"][i], err = timed(func() error { _, err := host.Call(b.Context(), a.Op, []byte(a.Request)); return err })
			td.Require(b).CmpNoError(err)
		}
		host.Close(b.Context())
		table["node"] = nodeTimes(b, dir, input)
		table["Chromium"] = chromiumTimes(b, dir, input)
		fmt.Print("\n| µs a call in |")
		for _, a := range all {
			fmt.Print(" ", a.Op, " |")
		}
		fmt.Println("\n|---|---|---|---|---|")
		for _, name := range []string{"native Go", "wazero", "node", "Chromium"} {
			fmt.Printf("| %s |", name)
			for i := range all {
				if table[name] == nil {
					fmt.Print(" not here |")
					continue
				}
				fmt.Printf(" %.0f |", table[name][i])
			}
			fmt.Println()
		}
	}
}

func openReactor(b *testing.B) *reactor.Host {
	code, err := wasm.BuildWASI("../../..")
	td.Require(b).CmpNoError(err)
	cached, err := os.UserCacheDir()
	td.Require(b).CmpNoError(err)
	cache, err := wazero.NewCompilationCacheWithDir(filepath.Join(cached, "whorl-wazero"))
	td.Require(b).CmpNoError(err)
	host, err := reactor.Open(b.Context(), code, cache)
	td.Require(b).CmpNoError(err)
	return host
}

func nodeTimes(b *testing.B, dir string, input []byte) (times []float64) {
	node, err := exec.LookPath("node")
	if err != nil {
		return nil
	}
	script := "import { load } from './whorl.js';\nimport { readFileSync } from 'node:fs';\n" + inJSTimed +
		"const out = await times(load, JSON.parse(readFileSync(0, 'utf8')));\nprocess.stdout.write(JSON.stringify(out), () => process.exit(0));\n"
	td.Require(b).CmpNoError(os.WriteFile(filepath.Join(dir, "times.mjs"), []byte(script), 0o600))
	cmd := exec.Command(node, "times.mjs")
	cmd.Dir, cmd.Stdin, cmd.Stderr = dir, bytes.NewReader(input), os.Stderr
	out, err := cmd.Output()
	td.Require(b).CmpNoError(err)
	td.Require(b).CmpNoError(json.Unmarshal(out, &times))
	return times
}

func chromiumTimes(b *testing.B, dir string, input []byte) (times []float64) {
	browser, err := exec.LookPath("chromium")
	if err != nil {
		return nil
	}
	mux := http.NewServeMux()
	mux.Handle("GET /", http.FileServer(http.Dir(dir)))
	mux.HandleFunc("GET /times.html", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		fmt.Fprintf(w, "<!doctype html><script type=\"module\">import { load } from './whorl.js';%s\nglobalThis.out = await times(load, %s);</script>", inJSTimed, input)
	})
	server := httptest.NewServer(mux)
	defer server.Close()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(browser), chromedp.NoSandbox, chromedp.DisableGPU)
	allocated, cancel := chromedp.NewExecAllocator(b.Context(), options...)
	defer cancel()
	ctx, stop := chromedp.NewContext(allocated)
	defer stop()
	td.Require(b).CmpNoError(chromedp.Do(ctx, chromedp.Navigate(server.URL+"/times.html")))
	for range 600 {
		got, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64]("globalThis.out ?? []"))
		td.Require(b).CmpNoError(err)
		if len(got) > 0 {
			return got
		}
		time.Sleep(100 * time.Millisecond)
	}
	b.Fatal("Chromium has not answered in a minute")
	return nil
}
