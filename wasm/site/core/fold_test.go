package core_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/evanw/esbuild/pkg/api"

	"whorl.example/wasm"
)

// unfolding runs the page's own code: of each file named it writes what it makes, or tells why it makes nothing.
const unfolding = `
import { decodeCore } from './core/decode.ts';
import { createReadStream, writeFileSync } from 'node:fs';
import { Readable } from 'node:stream';
const told = [];
for (const { from, to, piece } of JSON.parse(process.argv[2])) {
	try {
		const made = [];
		for await (const part of decodeCore(Readable.toWeb(createReadStream(from, { highWaterMark: piece })))) made.push(part);
		writeFileSync(to, Buffer.concat(made));
		told.push('');
	} catch (e) {
		told.push(e.constructor.name + ': ' + e.message);
	}
}
console.log(JSON.stringify(told));
`

type toUnfold struct {
	From  string `json:"from"`
	To    string `json:"to"`
	Piece int    `json:"piece"` // bytes that are read at once
}

// unfold gives for each file why it was refused.
func unfold(t *testing.T, files []toUnfold) []string {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node here")
	}
	built := api.Build(api.BuildOptions{
		Stdin:  &api.StdinOptions{Contents: unfolding, ResolveDir: filepath.Join(root, "wasm", "page", "src"), Loader: api.LoaderTS},
		Bundle: true, Format: api.FormatESModule, Platform: api.PlatformNode,
	})
	if len(built.Errors) > 0 {
		t.Fatal(built.Errors)
	}
	script := filepath.Join(t.TempDir(), "unfold.mjs")
	if err := os.WriteFile(script, built.OutputFiles[0].Contents, 0o600); err != nil {
		t.Fatal(err)
	}
	list, err := json.Marshal(files)
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	cmd := exec.Command(node, script, string(list))
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err == nil {
		err = json.Unmarshal(out, &told)
	}
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return told
}

// A core comes out of its file byte for byte, whatever the pieces in which it comes in; also one
// whose tables nobody has slimmed, and a module with an instruction that Go does not write.
func TestFoldedCoreUnfoldsToItself(t *testing.T) {
	if testing.Short() {
		t.Skip("left out by -short: builds the cores")
	}
	page, err := core()
	if err != nil {
		t.Fatal(err)
	}
	wasi, err := wasm.BuildWASI(root)
	if err != nil {
		t.Fatal(err)
	}
	if wasi, _, err = wasm.Slim(wasi, "with its tables"); err != nil {
		t.Fatal(err)
	}
	// Two functions: one adds as 128 bits (0xfc 19, of the proposal of wide arithmetic), one has a br_table and a branch.
	odd := []byte("\x00asm\x01\x00\x00\x00" + "\x01\x04\x01\x60\x00\x00" + "\x03\x03\x02\x00\x00" +
		"\x0a\x24\x02" + "\x10\x00\x42\x00\x42\x00\x42\x00\x42\x00\xfc\x13\x1a\x1a\x01\x01\x0b" +
		"\x11\x00\x02\x40\x02\x40\x41\x00\x0e\x02\x01\x00\x02\x0b\x0c\x00\x0b\x0b")
	var files []toUnfold
	var want [][]byte
	dir := t.TempDir()
	add := func(name string, module []byte, pieces ...int) {
		folded, err := wasm.Fold(module)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if bytes.Equal(folded, module) {
			t.Errorf("%s: not folded", name)
		}
		from := filepath.Join(dir, name)
		if err := os.WriteFile(from, folded, 0o600); err != nil {
			t.Fatal(err)
		}
		for _, piece := range pieces {
			files = append(files, toUnfold{from, fmt.Sprint(from, ".", piece), piece})
			want = append(want, module)
		}
	}
	add("page", page, 16<<20, 65536, 1021)
	add("wasi", wasi, 65536)
	add("odd", odd, 65536, 1)
	for i, why := range unfold(t, files) {
		if why != "" {
			t.Errorf("%s by %d: %s", files[i].From, files[i].Piece, why)
			continue
		}
		if got, err := os.ReadFile(files[i].To); err != nil || !bytes.Equal(got, want[i]) {
			t.Errorf("%s by %d: another module: %d bytes, not %d; %v", files[i].From, files[i].Piece, len(got), len(want[i]), err)
		}
	}
}

// A file that was cut short is refused, and one with a byte changed is refused or makes something:
// the reader ends by itself either way, and what is no module the browser refuses.
func TestDamagedFoldedCoreEnds(t *testing.T) {
	if testing.Short() {
		t.Skip("left out by -short: builds the core")
	}
	module, err := core()
	if err != nil {
		t.Fatal(err)
	}
	folded, err := wasm.Fold(module)
	if err != nil {
		t.Fatal(err)
	}
	const seed = 7
	random := rand.New(rand.NewPCG(seed, 0))
	dir := t.TempDir()
	var files []toUnfold
	cut := 0
	add := func(data []byte) {
		from := filepath.Join(dir, fmt.Sprint(len(files)))
		if err := os.WriteFile(from, data, 0o600); err != nil {
			t.Fatal(err)
		}
		files = append(files, toUnfold{from, from + ".made", 65536})
	}
	// The last byte of a module that is cut between two sections cannot be missed; within the data it is.
	for _, n := range []int{0, 1, 8, 9, 12, 18, 30, len(folded) / 3, len(folded) - 1} {
		add(folded[:n])
		cut++
	}
	for range 12 {
		damaged := bytes.Clone(folded)
		damaged[random.IntN(400)] ^= 1 << random.IntN(8)
		damaged[random.IntN(len(damaged))] ^= 1 << random.IntN(8)
		add(damaged)
	}
	refused := 0
	for i, why := range unfold(t, files) {
		if why != "" {
			refused++
		} else if i < cut {
			t.Errorf("a file cut short was taken: number %d", i)
		}
	}
	t.Logf("%d files, %d of them cut short: %d refused (seed %d)", len(files), cut, refused, seed)
}
