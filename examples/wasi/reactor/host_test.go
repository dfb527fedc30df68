package reactor

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/tetratelabs/wazero"

	"whorl.example/wasm"
	"whorl.example/wasm/api"
)

var compiled = sync.OnceValues(func() ([]byte, error) { return wasm.BuildWASI("../../..") })

func open(t testing.TB) *Host {
	t.Helper()
	if testing.Short() {
		t.Skip("left out by -short: builds the reactor")
	}
	code, err := compiled()
	td.Require(t).CmpNoError(err)
	h, err := Open(t.Context(), code, cache(t))
	td.Require(t).CmpNoError(err)
	t.Cleanup(func() { h.Close(context.Background()) })
	return h
}

func request(t testing.TB) []byte {
	t.Helper()
	text, err := os.ReadFile("../../assess/testdata/record.json")
	td.Require(t).CmpNoError(err)
	return text
}

// The reactor gives the bytes that package api gives, whatever the texts, and goes on.
func TestTheReactorAnswersAsTheNativeCore(t *testing.T) {
	t.Parallel()
	h := open(t)
	for _, c := range []struct{ op, request string }{
		{"compare", string(request(t))}, {"report", string(request(t))}, {"schema", "{}"}, {"catalogue", "{}"},
		{"version", "{}"}, {"version", ""}, {"", ""}, {"", "{}"}, {"nothing", "{"}, {"\xff", "\xff"}, {"version", "{}"},
		{"read", `{"file":"` + strings.Repeat(" ", 1<<20) + `"}`},
	} {
		got, err := h.Call(t.Context(), c.op, []byte(c.request))
		td.Require(t).CmpNoError(err)
		td.Cmp(t, string(got), string(api.Call(c.op, []byte(c.request))), c.op)
	}
}

// Blocks of the host's own making, stale ones and none at all are refused without harm.
func TestMisplacedTextsAreRefused(t *testing.T) {
	t.Parallel()
	h := open(t)
	call := func(f string, args ...uint64) uint64 {
		t.Helper()
		got, err := h.module.ExportedFunction(f).Call(t.Context(), args...)
		td.Require(t).CmpNoError(err)
		if len(got) == 0 {
			return 0
		}
		return got[0]
	}
	answer := func(args ...uint64) string {
		t.Helper()
		got := call("whorl_call", args...)
		text, ok := h.module.Memory().Read(uint32(got>>32), uint32(got))
		td.Require(t).True(ok)
		defer call("whorl_free", got>>32)
		return string(text)
	}
	const refused = `"code":"not-text"`
	td.Cmp(t, call("whorl_alloc", 0), uint64(0))
	td.Cmp(t, call("whorl_alloc", 1<<31), uint64(0))
	block := call("whorl_alloc", 9)
	h.module.Memory().WriteString(uint32(block), "version{}")
	td.Cmp(t, answer(block, 7, block+7, 2), td.Contains(`"ok":true`))
	td.Cmp(t, answer(block, 7, block+7, 3), td.Contains(refused), "longer than the block")
	td.Cmp(t, answer(block, 7, 1<<20, 2), td.Contains(refused), "memory that is not the host's")
	td.Cmp(t, answer(1<<32-1, 1<<32-1, block, 2), td.Contains(refused), "beyond all memory")
	call("whorl_free", block)
	call("whorl_free", block)
	td.Cmp(t, answer(block, 7, block+7, 2), td.Contains(refused), "freed")
}

// Memory stays as it is over many calls: blocks are given back, and the collector comes to its end. The catalogue is some
// 180 kB and takes 2 MB to write, so that 300 answers kept would be 54 MB, and what they left behind 600.
// A collector that runs beside other work is late now and then, which is why some growth is no loss.
func TestCallsLeaveNothingBehind(t *testing.T) {
	t.Parallel()
	h := open(t)
	size := func(n int) uint32 {
		for range n {
			_, err := h.Call(t.Context(), "catalogue", []byte("{}"))
			td.Require(t).CmpNoError(err)
		}
		return h.module.Memory().Size()
	}
	before := size(100)
	td.Cmp(t, size(300), td.Lte(before+16<<20))
}

// A call that takes all the memory there is ends the instance; the next call has another.
func TestADeadInstanceIsReplaced(t *testing.T) {
	t.Parallel()
	h := open(t)
	var err error
	for range 6 { // blocks that nobody frees: 384 MiB, of 256
		if _, err = h.alloc.Call(t.Context(), MaxBlock); err != nil {
			break
		}
	}
	td.CmpError(t, err)
	_, err = h.Call(t.Context(), "version", make([]byte, MaxBlock-7))
	td.CmpError(t, err)
	got, err := h.Call(t.Context(), "version", []byte("{}"))
	td.Require(t).CmpNoError(err)
	td.Cmp(t, string(got), td.Contains(`"ok":true`))
}

// MaxBlock is the reactor's limit.
const MaxBlock = 64 << 20

func TestWhatIsNoReactorIsRefused(t *testing.T) {
	t.Parallel()
	_, err := Open(t.Context(), bytes.Repeat([]byte{0}, 9), nil)
	td.CmpError(t, err)
}

// cache keeps the compiled code between runs, which takes seconds to make.
func cache(t testing.TB) wazero.CompilationCache {
	dir, err := os.UserCacheDir()
	if err != nil {
		return nil
	}
	kept, err := wazero.NewCompilationCacheWithDir(filepath.Join(dir, "whorl-wazero"))
	td.Require(t).CmpNoError(err)
	return kept
}

func BenchmarkCall(b *testing.B) {
	h := open(b)
	for _, op := range []string{"version", "report"} {
		body := []byte("{}")
		if op == "report" {
			body = request(b)
		}
		b.Run(op, func(b *testing.B) {
			for b.Loop() {
				if _, err := h.Call(b.Context(), op, body); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
