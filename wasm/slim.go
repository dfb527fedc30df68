package wasm

import (
	"bytes"
	"encoding/binary"
	"errors"
	"slices"
)

// Slim takes out of a WebAssembly module that Go linked what only a text about a crash would
// read, or what stops a goroutine anywhere, which no WebAssembly does: names of functions, files and lines, what was inlined
// where, which instructions must not be torn apart. In a module without names the functions that would write the text return at once
// (slim_silent.go). What the collector and a growing stack read stays, value for value wherever a
// function can be left; functions whose tables differ elsewhere share one. A crash then tells its reason, and
// no more. Of a Go whose tables are not known here the module keeps them; known tells.
//
// The linker also cuts the data at every eight zeros, which makes 70,000 pieces whose
// places do not compress; here the data is in few pieces.
func Slim(module []byte, goVersion string) (slim []byte, known bool, err error) {
	sections, err := splitModule(module)
	if err != nil {
		return nil, false, err
	}
	at := slices.IndexFunc(sections, func(s section) bool { return s.id == dataSection })
	if at < 0 {
		return nil, false, errors.New("slim: the module has no data")
	}
	m, err := loadMemory(sections[at].body)
	if err != nil {
		return nil, false, err
	}
	layout, known := layoutOf(goVersion)
	if known {
		if err := m.dropCrash(layout, sections); err != nil {
			return nil, false, err
		}
	}
	sections[at].body = m.segments()
	out := slices.Clone(module[:8])
	for _, s := range sections {
		if s.id == 0 && !s.hasNames() {
			continue // who built it: nothing reads that
		}
		out = append(out, s.id)
		out = binary.AppendUvarint(out, uint64(len(s.body)))
		out = append(out, s.body...)
	}
	return out, known, nil
}

const dataSection = 11

type section struct {
	id   byte
	body []byte
}

// hasNames reports whether it names functions.
func (s section) hasNames() bool { return s.id == 0 && bytes.HasPrefix(s.body, []byte("\x04name")) }

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
