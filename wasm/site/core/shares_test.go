package core_test

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"whorl.example/wasm"
	"whorl.example/wasm/site/static"
)

// share is what one package has of the core.
type share struct {
	name      string
	functions int
	raw, br   int
}

// What each package and each library weighs, printed as a table. A share is what its functions
// take when they are compressed alone, scaled so that all make up the code as it is
// compressed whole; tables of the run-time and data stand apart, since the linker mixes them.
func TestCoreShares(t *testing.T) {
	if testing.Short() {
		t.Skip("left out by -short: builds the core with names and compresses it by package")
	}
	named, err := wasm.BuildNamedCore(root)
	if err != nil {
		t.Fatal(err)
	}
	sections, err := sectionsOf(named.Module)
	if err != nil {
		t.Fatal(err)
	}
	code, data := sections["code"], sections["data"]
	functions, err := functionsOf(sections)
	if err != nil {
		t.Fatal(err)
	}
	linked, err := wasm.Linked(root, "{{.ImportPath}}")
	if err != nil {
		t.Fatal(err)
	}
	paths := map[string]string{}
	for _, p := range linked {
		paths[strings.Map(written, p)] = p
	}
	paths["main"] = "whorl.example/wasm/browser"
	bodies := map[string][][]byte{}
	for _, f := range functions {
		p := packageOf(f.name, paths)
		bodies[p] = append(bodies[p], f.body)
	}
	var shares []share
	alone := 0
	for name, b := range bodies {
		raw := bytes.Join(b, nil)
		s := share{name, len(b), len(raw), squeezed(raw)}
		alone += s.br
		shares = append(shares, s)
	}
	whole := squeezed(code)
	slices.SortFunc(shares, func(a, b share) int { return cmp.Or(b.br-a.br, cmp.Compare(a.name, b.name)) })
	var table strings.Builder
	line := func(name string, n, raw, br int) { fmt.Fprintf(&table, "%-52s %6d %9d %8d\n", name, n, raw, br) }
	fmt.Fprintf(&table, "\n%-52s %6s %9s %8s\n", "package", "funcs", "bytes", "brotli")
	for _, s := range shares {
		line(s.name, s.functions, s.raw, s.br*whole/alone)
	}
	line("= code", len(functions), len(code), whole)
	before, after := splitData(data)
	line("types, texts and read-only data", 0, len(before), squeezed(before))
	line("the collector's tables, and variables", 0, len(after), squeezed(after))
	line("= data", 0, len(data), squeezed(data))
	t.Log(table.String())
}

// splitData cuts the data before the run-time's tables of functions.
func splitData(data []byte) (before, after []byte) {
	magic := []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8} // of Go 1.20 and later; one-byte steps, 8-byte pointers
	at := max(0, bytes.Index(data, magic))
	return data[:at], data[at:]
}

func squeezed(data []byte) int { return len(static.Brotli(data, static.Thorough)) }

var errCut = errors.New("the core is cut")

// written is how the linker writes a letter of a name in the section of names.
func written(r rune) rune {
	if r == '.' || r == '_' || r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' {
		return r
	}
	return '_'
}

// packageOf gives the package of a function; paths are all there are, by how the linker writes them.
func packageOf(name string, paths map[string]string) string {
	if strings.HasPrefix(name, "type_.") {
		return "(comparisons of types)"
	}
	for end := len(name); end > 0; end = strings.LastIndexByte(name[:end], '.') {
		if path, ok := paths[name[:end]]; ok {
			return path
		}
	}
	return "(run-time, unnamed)"
}

type function struct {
	name string
	body []byte
}

// sectionsOf takes a WebAssembly module apart.
func sectionsOf(module []byte) (map[string][]byte, error) {
	known := map[byte]string{2: "imports", 10: "code", 11: "data"}
	sections := map[string][]byte{}
	if len(module) < 8 {
		return nil, errCut
	}
	for rest := module[8:]; len(rest) > 0; {
		id := rest[0]
		size, n := binary.Uvarint(rest[1:])
		if n <= 0 || uint64(len(rest)-1-n) < size {
			return nil, errCut
		}
		body := rest[1+n:][:size]
		rest = rest[1+n+int(size):]
		if id == 0 {
			length, n := binary.Uvarint(body)
			sections["custom "+string(body[n:][:length])] = body[n+int(length):]
			continue
		}
		sections[known[id]] = body
	}
	return sections, nil
}

// functionsOf gives each function with its name from the section of names.
func functionsOf(sections map[string][]byte) ([]function, error) {
	names := map[uint64]string{}
	read := func(b []byte) (uint64, []byte) {
		v, n := binary.Uvarint(b)
		return v, b[max(n, 0):]
	}
	list := sections["custom name"]
	for len(list) > 0 {
		kind := list[0]
		size, rest := read(list[1:])
		sub := rest[:size]
		list = rest[size:]
		if kind != 1 {
			continue
		}
		count, sub := read(sub)
		for range count {
			var index, length uint64
			index, sub = read(sub)
			length, sub = read(sub)
			names[index] = string(sub[:length])
			sub = sub[length:]
		}
	}
	if len(names) == 0 {
		return nil, errors.New("the core has no names")
	}
	imported, imports := read(sections["imports"])
	for range imported {
		for range 2 {
			var length uint64
			length, imports = read(imports)
			imports = imports[length:]
		}
		if imports[0] != 0 {
			return nil, errors.New("something other than a function is imported")
		}
		_, imports = read(imports[1:])
	}
	count, code := read(sections["code"])
	functions := make([]function, count)
	for i := range functions {
		size, rest := read(code)
		functions[i] = function{names[imported+uint64(i)], rest[:size]}
		code = rest[size:]
	}
	return functions, nil
}
