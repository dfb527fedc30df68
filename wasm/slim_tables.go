package wasm

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"go/version"
	"maps"
	"slices"
	"strings"
)

// A layout is where runtime.moduledata has, in words, the place of the data of functions; the end of the tables is the next, and the
// last that is looked at.
type layout uint64

// layouts are those that are known, by the language of Go. Another version may lay its tables out anew.
var layouts = map[string]layout{"go1.26": 40, "go1.27": 43}

// layoutOf gives that of a version, if it is known.
func layoutOf(goVersion string) (l layout, known bool) {
	release, _, _ := strings.Cut(goVersion, " ") // what follows is an experiment
	l, known = layouts[version.Lang(release)]
	return l, known
}

// slimmed are the versions of Go that [Slim] knows.
func slimmed() []string { return slices.Sorted(maps.Keys(layouts)) }

// What is below is that of cmd/link/internal/ld/pcln.go, runtime/symtab.go (pcHeader, moduledata) and
// runtime/runtime2.go (_func) of Go 1.26 and 1.27, on a processor of 64 bits.
const (
	// places in a function's entry
	entryOff, nameOff, pcspOff, pcfileOff, pclnOff, npcdataOff, cuOff, startLineOff = 0, 4, 16, 20, 24, 28, 32, 36
	funcIDOff, nfuncdataOff, sizeOfFunc                                             = 40, 43, 44

	pcdataPointers  = 1 // internal/abi.PCDATA_StackMapIndex
	pcdataInlined   = 2 // PCDATA_InlTreeIndex
	funcdataInlined = 3 // FUNCDATA_InlTree, of entries of 16 bytes
	funcdataArgs    = 5 // FUNCDATA_ArgInfo, up to a byte 0xff
	noFuncdata      = ^uint32(0)

	findfunctabWord, minpcWord, maxpcWord = 19, 20, 21 // of runtime.moduledata
	bytesInBucket, sizeOfBucket           = 4096, 20   // internal/abi.FuncTabBucketSize; a number of 4 bytes is first
)

func (m memory) u32(at uint64) uint32 { return binary.LittleEndian.Uint32(m[at:]) }
func (m memory) u64(at uint64) uint64 { return binary.LittleEndian.Uint64(m[at:]) }
func (m memory) put(at uint64, v uint32) {
	binary.LittleEndian.PutUint32(m[at:], v)
}

// tables are the places of the run-time's tables of functions.
type tables struct {
	names, units, files, pcs, functions, data, dataEnd uint64
	buckets                                            uint64   // how many, from dataEnd on, tell where in the table a function is looked for
	entries                                            []uint64 // of each function
}

// findTables finds the tables, by the header and by the module's data that points to it.
func (m memory) findTables(l layout) (t tables, err error) {
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
	if at < 0 || bytes.Contains(m[at+1:], begin) || at+8*int(l+2) > len(m) {
		return t, errors.New("slim: no one description of the module")
	}
	word := func(n uint64) uint64 { return m.u64(uint64(at) + 8*n) }
	t.data, t.dataEnd = word(uint64(l)), word(findfunctabWord)
	t.buckets = (word(maxpcWord) - word(minpcWord)) / bytesInBucket
	ordered := []uint64{head, t.names, t.units, t.files, t.pcs, t.functions, t.data, t.dataEnd, t.dataEnd + sizeOfBucket*t.buckets, word(uint64(l) + 1), uint64(len(m))}
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

// dropCrash takes out of the tables and of the code what [Slim] says; a module with names keeps the code.
func (m memory) dropCrash(l layout, sections []section) (err error) {
	t, err := m.findTables(l)
	if err != nil {
		return err
	}
	defer func() {
		if recover() != nil { // an index out of range
			err = errors.New("slim: a table of functions reaches beyond the data")
		}
	}()
	if !slices.ContainsFunc(sections, section.hasNames) {
		at := slices.IndexFunc(sections, func(s section) bool { return s.id == codeSection })
		if at < 0 {
			return errModule
		}
		if sections[at].body, err = m.silence(t, sections[at].body); err != nil {
			return err
		}
	}
	m.dropFuncdata(t)
	m.packTables(t)
	m.shareNames(t)
	clear(m[t.units:t.pcs]) // which files, and their names
	m.packEntries(t)
	m.roundBuckets(t)
	return nil
}

// roundBuckets lets a search for a function begin at one in sixteen: the run-time goes on from there.
func (m memory) roundBuckets(t tables) {
	for b := range t.buckets {
		at := t.dataEnd + sizeOfBucket*b
		m.put(at, m.u32(at)&^15)
	}
}

// packEntries moves the entries of functions together, each without what says nothing at the end of its lists.
func (m memory) packEntries(t tables) {
	var packed []byte
	for i, f := range t.entries {
		m.put(f+cuOff, 0)
		m.put(f+startLineOff, 0)
		lists := f + sizeOfFunc
		npcdata, nfuncdata := uint64(m.u32(f+npcdataOff)), uint64(m[f+nfuncdataOff])
		pcdata, funcdata := m[lists:][:4*npcdata], m[lists+4*npcdata:][:4*nfuncdata]
		for len(pcdata) > 0 && pcdata.u32(uint64(len(pcdata)-4)) == 0 {
			pcdata = pcdata[:len(pcdata)-4]
		}
		for len(funcdata) > 0 && funcdata.u32(uint64(len(funcdata)-4)) == noFuncdata {
			funcdata = funcdata[:len(funcdata)-4]
		}
		m.put(f+npcdataOff, uint32(len(pcdata)/4))
		m[f+nfuncdataOff] = byte(len(funcdata) / 4)
		m.put(t.functions+8*uint64(i)+4, uint32(t.entries[0]-t.functions)+uint32(len(packed)))
		packed = append(append(append(packed, m[f:lists]...), pcdata...), funcdata...)
	}
	clear(m[t.entries[0]:t.data])
	copy(m[t.entries[0]:], packed)
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

// step reads one step of a table of program counters: by how much the value changes, for how
// far that holds, and what follows. The end is n = 0.
func (m memory) step(at uint64, first bool) (change, on int64, n uint64) {
	raw, a := binary.Uvarint(m[at:])
	if raw == 0 && !first {
		return 0, 0, 0
	}
	far, b := binary.Uvarint(m[at+uint64(a):])
	return int64(raw>>1) ^ -int64(raw&1), int64(far), uint64(a + b)
}

// last is the largest value of a table of program counters.
func (m memory) last(at uint64) int64 {
	value, most := int64(-1), int64(-1)
	for first := true; ; first = false {
		change, _, n := m.step(at, first)
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
	moved := map[string]uint32{"\x00": 0}
	move := func(place uint64) {
		table := string(m.table(t.pcs + uint64(m.u32(place))))
		to, known := moved[table]
		if !known {
			to = uint32(len(packed))
			packed = append(packed, table...)
			moved[table] = to
		}
		m.put(place, to)
	}
	for _, f := range t.entries {
		move(f + pcspOff)
		m.put(f+pcfileOff, 0)
		m.put(f+pclnOff, 0)
		for kind := range uint64(m.u32(f + npcdataOff)) {
			if place := f + sizeOfFunc + 4*kind; kind == pcdataPointers {
				move(place)
			} else {
				m.put(place, 0)
			}
		}
	}
	clear(m[t.pcs:t.functions])
	copy(m[t.pcs:], packed)
}

// table gives the table of program counters at a place as one that many functions can share: its last value holds to the
// end of any function, and what is unknown (-1) at the beginning, where no pointer is on the stack yet, is the first map.
func (m memory) table(at uint64) []byte {
	const end = 1 << 16 // of the places in a function
	type run struct{ value, until int64 }
	var runs []run
	value, until := int64(-1), int64(0)
	for first := true; ; first = false {
		change, on, n := m.step(at, first)
		if n == 0 {
			break
		}
		at += n
		value += change
		until += on
		if last := len(runs) - 1; last >= 0 && runs[last].value == max(value, 0) {
			runs[last].until = until
		} else {
			runs = append(runs, run{max(value, 0), until})
		}
	}
	if len(runs) == 0 {
		return []byte{0}
	}
	runs[len(runs)-1].until = end
	var b []byte
	value, until = -1, 0
	for _, r := range runs {
		b = binary.AppendVarint(b, r.value-value)
		b = binary.AppendUvarint(b, uint64(r.until-until))
		value, until = r.value, r.until
	}
	return append(b, 0)
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
