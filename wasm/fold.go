package wasm

import (
	"bytes"
	"encoding/binary"
	"errors"
	"slices"
)

// Fold makes a file of a slimmed module that a compressor makes less of: 973 kB under brotli
// became 773. page/src/core/decode.ts makes the same module of it again, byte for byte,
// while it comes in. What is one thing in a program, Go's compiler and linker write in many ways:
//
//   - A call is 30 bytes: it pushes the place to return to, which holds the number of the function that
//     calls and a count of places in it, and afterwards leaves by a branch that counts the
//     blocks up to the end of the function. Folded, it is what is called, and how far the count went on.
//   - A jump sets a place in the function and branches to the loop that finds it. Folded, it is
//     how far away that place is.
//   - Any other branch counts the blocks between it and its aim. Folded, it counts from the outermost.
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

// What stands for a jump, and for a call whose place is the next, or the one after: 0, 1 or 2 on, or
// farther, as a number tells. None is an instruction that Go writes.
const jumpOp, callOp, farCallOp = 0xf0, 0xf1, 0xf4

// What a call is made of (cmd/internal/obj/wasm): a place on the stack, the place to return to in it, the
// call, and the way out if the goroutine is to be switched.
var (
	pushPlace = []byte{0x20, 1, 0x41, 8, 0x6b, 0x22, 1, 0x24, 0, 0x20, 1, 0x42}
	callPlace = []byte{0x37, 3, 0, 0x41, 0, 0x10}
	afterCall = []byte{0x23, 0, 0x21, 1, 0x0d}
	jumpPlace = []byte{0x21, 0, 0x0c}
)

// places follows, from one end of a function to the other, which place comes next.
type places struct {
	depth, lowest, base int
	first               map[int]int // of each block of the function's outermost table, its first place
	next                int
}

// table takes note of the first table of branches: which place is in which block.
func (p *places) table(targets []uint64) {
	if p.first != nil {
		return
	}
	p.first = map[int]int{}
	for place, block := range targets[:len(targets)-1] {
		if _, known := p.first[int(block)]; !known {
			p.first[int(block)] = place
		}
	}
	p.base, p.lowest = p.depth, p.depth
}

// end leaves a block: behind one of the outermost table's, its places begin.
func (p *places) end() {
	p.depth--
	if p.first != nil && p.depth < p.lowest {
		p.lowest = p.depth
		p.next = max(p.next, p.first[p.base-p.lowest-1])
	}
}

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
	home := firstFunction + index
	if home >= 1<<15 {
		return nil, errFold // the reader has 31 bits
	}
	copied := 0
	var p places
	for at < len(body) {
		start := at
		op := body[at]
		if op == pushPlace[0] {
			if c, ok := readCall(body[at:], home, p.depth); ok {
				out = append(out, body[copied:start]...)
				if step := c.place - p.next; step >= 0 && step < farCallOp-callOp {
					out = append(out, byte(callOp+step))
				} else {
					out = binary.AppendVarint(append(out, farCallOp), int64(step))
				}
				out = append(out, c.callee...)
				p.next = c.place
				at += c.size
				copied = at
				continue
			}
		}
		if op == 0x41 {
			if place, size := readJump(body[at:], p.depth); size > 0 {
				out = append(append(out, body[copied:start]...), jumpOp)
				out = binary.AppendVarint(out, int64(place-p.next))
				at += size
				copied = at
				continue
			}
		}
		at++
		switch {
		case op >= 0x02 && op <= 0x04: // block, loop, if
			number()
			p.depth++
		case op == 0x0b:
			p.end()
		case op == 0x0c || op == 0x0d: // br, br_if
			to := number()
			out = append(out, body[copied:start+1]...)
			out = binary.AppendUvarint(out, uint64(p.depth)-to)
			copied = at
		case op == 0x0e: // br_table
			targets := make([]uint64, min(number(), uint64(len(body)))+1)
			out = append(out, body[copied:at]...)
			before := int64(0)
			for i := range targets {
				targets[i] = number()
				out = binary.AppendVarint(out, int64(targets[i])-before)
				before = int64(targets[i])
			}
			p.table(targets)
			copied = at
		case op == 0x10 || op >= 0x20 && op <= 0x26 || op >= 0x3f && op <= 0x41: // one number
			number()
		case op == 0x42: // one of 64 bits
			_, n := varint(body[at:])
			at += n
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

// A call that can be written short: its place to return to, the number of what is called as it
// stands, and its size.
type call struct {
	place  int
	callee []byte
	size   int
}

// readCall reads a call at the start of code, in the function whose number is home and so many blocks deep.
func readCall(code []byte, home uint64, depth int) (c call, ok bool) {
	rest, ok := bytes.CutPrefix(code, pushPlace)
	if !ok {
		return c, false
	}
	to, n := varint(rest)
	if n != len(appendVarint(nil, to)) || uint64(to)>>16 != home {
		return c, false
	}
	c.place = int(to & 0xffff)
	if rest, ok = bytes.CutPrefix(rest[n:], callPlace); !ok {
		return c, false
	}
	_, n = binary.Uvarint(rest)
	if n <= 0 || n > 5 {
		return c, false
	}
	c.callee = rest[:n]
	if rest, ok = bytes.CutPrefix(rest[n:], afterCall); !ok {
		return c, false
	}
	out := binary.AppendUvarint(nil, uint64(depth-1)) // the outermost but one
	if rest, ok = bytes.CutPrefix(rest, out); !ok {
		return c, false
	}
	c.size = len(code) - len(rest)
	return c, true
}

// readJump reads a jump at the start of code, so many blocks deep; its size is 0 if there is none.
func readJump(code []byte, depth int) (place, size int) {
	to, n := varint(code[1:])
	if n != len(appendVarint(nil, to)) || to < 0 || to > 0xffff {
		return 0, 0
	}
	rest, ok := bytes.CutPrefix(code[1+n:], jumpPlace)
	if !ok {
		return 0, 0
	}
	loop := binary.AppendUvarint(nil, uint64(depth-2)) // within the outermost and the way out
	if rest, ok = bytes.CutPrefix(rest, loop); !ok {
		return 0, 0
	}
	return int(to), len(code) - len(rest)
}

// foldTable folds the table of functions in the data section, if it is there as a known Go lays it
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
	var t tables
	for _, version := range slimmed() {
		if t, err = m.findTables(layouts[version]); err == nil {
			break
		}
	}
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
