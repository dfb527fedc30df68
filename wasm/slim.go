package wasm

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// slimmed is what [Slim] knows the tables of; another version of Go may lay them out anew.
const slimmed = "go1.26"

// Slim takes out of a WebAssembly module that Go linked what only a text about a crash would
// read: names of functions, files and lines, and what was inlined where. What the collector
// and a growing stack read stays, value for value. A trace of a crash then has numbers of
// functions in the place of names. A module of another Go than version 1.26 keeps its tables.
//
// The linker also cuts the data at every eight zeros, which makes 70,000 pieces whose
// places do not compress; here the data is in few pieces.
func Slim(module []byte, goVersion string) ([]byte, error) {
	sections, err := splitModule(module)
	if err != nil {
		return nil, err
	}
	at := slices.IndexFunc(sections, func(s section) bool { return s.id == dataSection })
	if at < 0 {
		return nil, errors.New("slim: the module has no data")
	}
	m, err := loadMemory(sections[at].body)
	if err != nil {
		return nil, err
	}
	if goVersion == slimmed || strings.HasPrefix(goVersion, slimmed+".") {
		if err := m.dropNames(); err != nil {
			return nil, err
		}
	}
	sections[at].body = m.segments()
	out := slices.Clone(module[:8])
	for _, s := range sections {
		if s.id == 0 && !bytes.HasPrefix(s.body, []byte("\x04name")) {
			continue // who built it: nothing reads that
		}
		out = append(out, s.id)
		out = binary.AppendUvarint(out, uint64(len(s.body)))
		out = append(out, s.body...)
	}
	return out, nil
}

const dataSection = 11

type section struct {
	id   byte
	body []byte
}

var errModule = errors.New("slim: not a WebAssembly module as Go links it")

// splitModule takes a module apart.
func splitModule(module []byte) ([]section, error) {
	if !bytes.HasPrefix(module, []byte("\x00asm\x01\x00\x00\x00")) {
		return nil, errModule
	}
	var sections []section
	for rest := module[8:]; len(rest) > 0; {
		size, n := binary.Uvarint(rest[1:])
		if n <= 0 || uint64(len(rest)-1-n) < size {
			return nil, errModule
		}
		sections = append(sections, section{rest[0], rest[1+n:][:size]})
		rest = rest[1+n+int(size):]
	}
	return sections, nil
}

// memory is what the module's memory holds at the start.
type memory []byte

// loadMemory lays the segments of a data section out.
func loadMemory(data []byte) (memory, error) {
	const most = 64 << 20
	count, n := binary.Uvarint(data)
	if n <= 0 {
		return nil, errModule
	}
	data = data[n:]
	var m memory
	for range count {
		if !bytes.HasPrefix(data, []byte{0, 0x41}) { // memory 0, at i32.const
			return nil, errModule
		}
		at, n := varint(data[2:])
		if n <= 0 || at < 0 || len(data) < 3+n || data[2+n] != 0x0b {
			return nil, errModule
		}
		data = data[3+n:]
		size, n := binary.Uvarint(data)
		if n <= 0 || uint64(len(data)-n) < size || uint64(at)+size > most {
			return nil, errModule
		}
		if end := int(at) + int(size); end > len(m) {
			m = append(m, make([]byte, end-len(m))...)
		}
		copy(m[at:], data[n:][:size])
		data = data[n+int(size):]
	}
	return m, nil
}

// varint reads a signed LEB128, which is not the zigzag of package binary.
func varint(b []byte) (value int64, n int) {
	for shift := uint(0); n < len(b) && shift < 64; {
		c := b[n]
		n++
		value |= int64(c&0x7f) << shift
		shift += 7
		if c < 0x80 {
			if c&0x40 != 0 && shift < 64 {
				value -= 1 << shift
			}
			return value, n
		}
	}
	return 0, 0
}

func appendVarint(b []byte, v int64) []byte {
	for {
		c := byte(v & 0x7f)
		v >>= 7
		if v == 0 && c&0x40 == 0 || v == -1 && c&0x40 != 0 {
			return append(b, c)
		}
		b = append(b, c|0x80)
	}
}

// segments writes the memory as the body of a data section. A run of zeros is left out if it is long; what
// begins with a zero of its own, as the table of functions does, is whole.
func (m memory) segments() []byte {
	const long = 1024
	var out []byte
	count := 0
	for start := 0; start < len(m); {
		if m[start] == 0 {
			start++
			continue
		}
		start &^= 7
		end, zeros := start, 0
		for i := start; i < len(m) && zeros < long; i++ {
			if m[i] != 0 {
				end, zeros = i+1, 0
			} else {
				zeros++
			}
		}
		out = append(out, 0, 0x41)
		out = append(appendVarint(out, int64(start)), 0x0b)
		out = binary.AppendUvarint(out, uint64(end-start))
		out = append(out, m[start:end]...)
		count++
		start = end
	}
	return append(binary.AppendUvarint(nil, uint64(count)), out...)
}

// The layout below is that of cmd/link/internal/ld/pcln.go, runtime/symtab.go (pcHeader,
// moduledata) and runtime/runtime2.go (_func) of Go 1.26, on a processor of 64 bits.
const (
	// places in a function's entry
	entryOff, nameOff, pcspOff, pcfileOff, pclnOff, npcdataOff, cuOff, startLineOff = 0, 4, 16, 20, 24, 28, 32, 36
	funcIDOff, nfuncdataOff, sizeOfFunc                                             = 40, 43, 44

	pcdataInlined   = 2 // internal/abi.PCDATA_InlTreeIndex
	funcdataInlined = 3 // FUNCDATA_InlTree, of entries of 16 bytes
	funcdataArgs    = 5 // FUNCDATA_ArgInfo, up to a byte 0xff
	noFuncdata      = ^uint32(0)

	// of runtime.moduledata, in words
	gofuncWord, epclntabWord, findfunctabWord, moduledataWords = 40, 41, 19, 42
)

func (m memory) u32(at uint64) uint32 { return binary.LittleEndian.Uint32(m[at:]) }
func (m memory) u64(at uint64) uint64 { return binary.LittleEndian.Uint64(m[at:]) }
func (m memory) put(at uint64, v uint32) {
	binary.LittleEndian.PutUint32(m[at:], v)
}

// tables are the places of the run-time's tables of functions.
type tables struct {
	names, units, files, pcs, functions, data, dataEnd uint64
	entries                                            []uint64 // of each function
}

// findTables finds the tables, by the header and by the module's data that points to it.
func (m memory) findTables() (t tables, err error) {
	defer func() {
		if recover() != nil { // an index out of range
			err = errors.New("slim: the tables of functions reach beyond the data")
		}
	}()
	magic := []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8}
	found := bytes.Index(m, magic)
	if found < 0 || bytes.Contains(m[found+1:], magic) {
		return t, errors.New("slim: no one table of functions")
	}
	head := uint64(found)
	count := m.u64(head + 8)
	t.names, t.units, t.files = head+m.u64(head+32), head+m.u64(head+40), head+m.u64(head+48)
	t.pcs, t.functions = head+m.u64(head+56), head+m.u64(head+64)
	// The module's data begins with the header's place and the slice of names.
	var begin []byte
	begin = binary.LittleEndian.AppendUint64(begin, head)
	begin = binary.LittleEndian.AppendUint64(begin, t.names)
	at := bytes.Index(m, begin)
	if at < 0 || bytes.Contains(m[at+1:], begin) || at+8*moduledataWords > len(m) {
		return t, errors.New("slim: no one description of the module")
	}
	word := func(n uint64) uint64 { return m.u64(uint64(at) + 8*n) }
	t.data, t.dataEnd = word(gofuncWord), word(findfunctabWord)
	ordered := []uint64{head, t.names, t.units, t.files, t.pcs, t.functions, t.data, t.dataEnd, word(epclntabWord), uint64(len(m))}
	if !slices.IsSorted(ordered) || word(4) != t.units || word(7) != t.files || word(10) != t.pcs || word(13) != t.functions ||
		word(16) != t.functions || word(17) != count+1 {
		return t, errors.New("slim: the description of the module is laid out in another way")
	}
	for i := range count {
		place := t.functions + 8*i
		entry := t.functions + uint64(m.u32(place+4))
		if m.u32(entry+entryOff) != m.u32(place) || m.u32(entry+npcdataOff) > 5 || m[entry+nfuncdataOff] > 8 {
			return t, fmt.Errorf("slim: the entry of function %d is laid out in another way", i)
		}
		t.entries = append(t.entries, entry)
	}
	return t, nil
}

// dropNames takes out what is said above.
func (m memory) dropNames() (err error) {
	t, err := m.findTables()
	if err != nil {
		return err
	}
	defer func() {
		if recover() != nil { // an index out of range
			err = errors.New("slim: a table of functions reaches beyond the data")
		}
	}()
	m.dropFuncdata(t)
	m.packTables(t)
	m.shareNames(t)
	clear(m[t.units:t.pcs]) // which files, and their names
	for _, f := range t.entries {
		m.put(f+cuOff, 0)
		m.put(f+startLineOff, 0)
	}
	return nil
}

// dropFuncdata takes out which calls were inlined and how arguments are shown.
func (m memory) dropFuncdata(t tables) {
	sizes := map[uint64]uint64{} // of what goes, by place
	kept := map[uint64]bool{}
	for _, f := range t.entries {
		pcdata := f + sizeOfFunc
		funcdata := pcdata + 4*uint64(m.u32(f+npcdataOff))
		for kind := range uint64(m[f+nfuncdataOff]) {
			place := funcdata + 4*kind
			offset := m.u32(place)
			if offset == noFuncdata {
				continue
			}
			at := t.data + uint64(offset)
			switch kind {
			case funcdataInlined:
				last := m.last(t.pcs + uint64(m.u32(pcdata+4*pcdataInlined)))
				sizes[at] = max(sizes[at], 16*uint64(last+1))
			case funcdataArgs:
				sizes[at] = max(sizes[at], uint64(1+bytes.IndexByte(m[at:], 0xff)))
			default:
				kept[at] = true
				continue
			}
			m.put(place, noFuncdata)
		}
	}
	// What is the same in bytes is there once: it goes only where nothing that stays has begun.
	stays := slices.Sorted(maps.Keys(kept))
	for at, size := range sizes {
		i, same := slices.BinarySearch(stays, at)
		if !same && (i == len(stays) || at+size <= stays[i]) && at+size <= t.dataEnd {
			clear(m[at:][:size])
		}
	}
}

// step reads one step of a table of program counters: by how much the value changes, and
// what follows. The end is n = 0.
func (m memory) step(at uint64, first bool) (change int64, n uint64) {
	raw, a := binary.Uvarint(m[at:])
	if raw == 0 && !first {
		return 0, 0
	}
	_, b := binary.Uvarint(m[at+uint64(a):])
	return int64(raw>>1) ^ -int64(raw&1), uint64(a + b)
}

// last is the largest value of a table of program counters.
func (m memory) last(at uint64) int64 {
	value, most := int64(-1), int64(-1)
	for first := true; ; first = false {
		change, n := m.step(at, first)
		if n == 0 {
			return most
		}
		value += change
		most = max(most, value)
		at += n
	}
}

// packTables keeps of the tables by program counter those of the stack's depth and of its
// pointers, and moves them together. The table at 0 is the empty one.
func (m memory) packTables(t tables) {
	packed := []byte{0}
	moved := map[uint32]uint32{0: 0}
	move := func(place uint64) {
		offset := m.u32(place)
		to, known := moved[offset]
		if !known {
			start := t.pcs + uint64(offset)
			end := start
			for first := true; ; first = false {
				_, n := m.step(end, first)
				if n == 0 {
					break
				}
				end += n
			}
			to = uint32(len(packed))
			packed = append(packed, m[start:end+1]...)
			moved[offset] = to
		}
		m.put(place, to)
	}
	for _, f := range t.entries {
		move(f + pcspOff)
		m.put(f+pcfileOff, 0)
		m.put(f+pclnOff, 0)
		for kind := range uint64(m.u32(f + npcdataOff)) {
			if place := f + sizeOfFunc + 4*kind; kind == pcdataInlined {
				m.put(place, 0)
			} else {
				move(place)
			}
		}
	}
	clear(m[t.pcs:t.functions])
	copy(m[t.pcs:], packed)
}

// shareNames leaves those names that the run-time goes by: whether a goroutine is its own, the two
// stubs of reflection, and for a wrapper the form that a nil pointer's panic takes apart.
func (m memory) shareNames(t tables) {
	const wrapper = 23 // internal/abi.FuncIDWrapper
	names := []byte{0}
	places := map[string]uint32{}
	for _, f := range t.entries {
		name := m.name(t, m.u32(f+nameOff))
		own := strings.HasPrefix(name, "runtime.")
		switch wraps := m[f+funcIDOff] == wrapper; {
		case name == "reflect.makeFuncStub", name == "reflect.methodValueCall":
		case own && wraps:
			name = "runtime.(*T).m"
		case own:
			name = "runtime."
		case wraps:
			name = "whorl.(*T).m"
		default:
			m.put(f+nameOff, 0)
			continue
		}
		if _, known := places[name]; !known {
			places[name] = uint32(len(names))
			names = append(append(names, name...), 0)
		}
		m.put(f+nameOff, places[name])
	}
	clear(m[t.names:t.units])
	copy(m[t.names:], names)
}

func (m memory) name(t tables, offset uint32) string {
	b := m[t.names+uint64(offset):]
	return string(b[:bytes.IndexByte(b, 0)])
}
