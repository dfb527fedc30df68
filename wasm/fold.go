package wasm

import (
	"bytes"
	"encoding/binary"
	"errors"
	"slices"
)

// Fold makes a file of a slimmed module that a compressor makes less of: 973 kB under brotli
// became 820. Unfold in page/src/unfold.ts makes the same module of it again, byte for byte,
// while it comes in. What is the same in two places of a program, Go's linker writes in two ways:
//
//   - Before each call it pushes the place to return to, which holds the number of the function
//     that calls. Folded, it is what was added since the call before.
//   - A branch counts the blocks between it and its aim, so that the branch to the end of the
//     function, after each call, has another number each time. Folded, it counts from the outermost block.
//   - A table of branches counts up. Folded, it holds the steps.
//   - So does the run-time's table of functions; and what that says, each function says again.
//
// The file is a module too, without code and with one custom section, "folded", so that a host
// gives it the type, and the compression, of any module. The section holds two numbers, the place of
// the table of functions in the body of the data section and how many functions it has (0: it is not
// folded), and the sections of the module. There the section of code tells the size it will
// have, and each function in it twice the size it has in the file, and one more if it is folded:
// one that has an instruction unknown to us is not.
func Fold(module []byte) ([]byte, error) {
	sections, err := splitModule(module)
	if err != nil {
		return nil, err
	}
	place, functions := foldTable(sections)
	folded := []byte("\x06folded")
	folded = binary.AppendUvarint(folded, uint64(place))
	folded = binary.AppendUvarint(folded, uint64(functions))
	for _, s := range sections {
		body := s.body
		if s.id == codeSection {
			if body, err = foldCode(s.body); err != nil {
				return nil, err
			}
		}
		folded = append(folded, s.id)
		folded = binary.AppendUvarint(folded, uint64(len(s.body)))
		folded = append(folded, body...)
	}
	out := append(slices.Clone(module[:8]), 0)
	out = binary.AppendUvarint(out, uint64(len(folded)))
	return append(out, folded...), nil
}

const codeSection = 10

var errFold = errors.New("fold: code as Go does not write it")

// foldCode folds the body of the code section.
func foldCode(code []byte) ([]byte, error) {
	count, n := binary.Uvarint(code)
	if n <= 0 {
		return nil, errFold
	}
	out, rest := slices.Clone(code[:n]), code[n:]
	for i := range count {
		size, n := binary.Uvarint(rest)
		if n <= 0 || uint64(len(rest)-n) < size {
			return nil, errFold
		}
		body, folded := rest[n:][:size], uint64(1)
		if b, err := foldFunction(body, i); err == nil {
			body = b
		} else {
			folded = 0
		}
		out = binary.AppendUvarint(out, uint64(len(body))<<1|folded)
		out = append(out, body...)
		rest = rest[n+int(size):]
	}
	if len(rest) > 0 {
		return nil, errFold
	}
	return out, nil
}

// firstFunction is the number that Go gives the first function of a module in a place to return to
// (cmd/link/internal/wasm), above the 16 bits of the place within the function.
const firstFunction = 0x1000

// foldFunction folds one function's body; index is its place in the section.
func foldFunction(body []byte, index uint64) (out []byte, err error) {
	defer func() {
		if recover() != nil { // an index out of range
			err = errFold
		}
	}()
	at := 0
	number := func() uint64 {
		v, n := binary.Uvarint(body[at:])
		if n <= 0 {
			panic(errFold)
		}
		at += n
		return v
	}
	for range number() { // groups of locals
		number()
		at++
	}
	copied := 0
	home := firstFunction + index
	last := home << 16
	depth := uint64(0)
	for at < len(body) {
		op := body[at]
		at++
		start := at
		switch {
		case op >= 0x02 && op <= 0x04: // block, loop, if
			number()
			depth++
		case op == 0x0b: // end
			depth--
		case op == 0x0c || op == 0x0d: // br, br_if
			to := number()
			out = append(out, body[copied:start]...)
			out = binary.AppendUvarint(out, depth-to)
			copied = at
		case op == 0x0e: // br_table
			n := number()
			out = append(out, body[copied:at]...)
			before := int64(0)
			for range n + 1 {
				to := int64(number())
				out = binary.AppendVarint(out, to-before)
				before = to
			}
			copied = at
		case op == 0x42: // i64.const
			v, n := varint(body[at:])
			at += n
			if len(appendVarint(nil, v)) != n {
				return nil, errFold // such a long way is the mark of what was folded
			}
			if n == 5 && uint64(v)>>16 == home && uint64(v) >= last {
				out = append(out, body[copied:start]...)
				step := uint64(v) - last
				out = append(out, byte(step)|0x80, byte(step>>7)|0x80, byte(step>>14)|0x80, 0x80, 0)
				last = uint64(v)
				copied = at
			}
		case op == 0x10 || op >= 0x20 && op <= 0x26 || op >= 0x3f && op <= 0x41: // one number
			number()
		case op == 0x11 || op >= 0x28 && op <= 0x3e: // two
			number()
			number()
		case op == 0x43:
			at += 4
		case op == 0x44:
			at += 8
		case op == 0xfc:
			switch kind := number(); {
			case kind == 10:
				at += 2
			case kind == 11:
				at++
			case kind > 7:
				return nil, errFold
			}
		case op <= 0x01 || op == 0x05 || op == 0x0f || op == 0x1a || op == 0x1b || op >= 0x45 && op <= 0xc4: // none
		default:
			return nil, errFold
		}
	}
	return append(out, body[copied:]...), nil
}

// foldTable folds the table of functions in the data section, if it is there as Go 1.26 lays it
// out and in one segment, and tells its place and how many functions it has.
func foldTable(sections []section) (place, functions int) {
	i := slices.IndexFunc(sections, func(s section) bool { return s.id == dataSection })
	if i < 0 {
		return 0, 0
	}
	m, err := loadMemory(sections[i].body)
	if err != nil {
		return 0, 0
	}
	t, err := m.findTables()
	if err != nil || len(t.entries) == 0 {
		return 0, 0
	}
	n := len(t.entries)
	table := m[t.functions:][:t.entries[n-1]+4-t.functions]
	place = bytes.Index(sections[i].body, table)
	if place < 0 {
		return 0, 0
	}
	body := slices.Clone(sections[i].body)
	folded := memory(body[place:][:len(table)])
	for i := n - 1; i >= 0; i-- {
		at := uint64(8 * i)
		folded.put(uint64(folded.u32(at+4)), 0) // where it begins, as the table says
		if i > 0 {
			folded.put(at, folded.u32(at)-folded.u32(at-8))
			folded.put(at+4, folded.u32(at+4)-folded.u32(at-4))
		}
	}
	sections[i].body = body
	return place, n
}
