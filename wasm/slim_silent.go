package wasm

import (
	"encoding/binary"
	"slices"
	"strings"
)

// silent are the beginnings of the names of functions that only write what a crashed goroutine was doing, or that record a run or
// a profile when somebody asked for that, which nobody can in a page. The first ones have no result; the others are never called there.
var silent = []string{
	// the text of a crash below its first line, and in that a value of a type that is not the language's own
	"runtime.traceback1", "runtime.tracebacksomeothers", "runtime.tracebackHexdump", "runtime.goroutineheader", "runtime.printcreatedby",
	"runtime.printAncestorTraceback", "runtime.printCgoTraceback", "runtime.printArgs", "runtime.printanycustomtype", "runtime.hexdumpWords",
	"runtime.gcDumpObject", "runtime.dumpgstatus",
	// what GODEBUG asks for
	"runtime.schedtrace", "runtime.printScavTrace", "runtime.checkFinalizersAndCleanups",
	// who is called by those alone
	"runtime.traceback2", "runtime.printOneCgoTraceback", "runtime.(*hexdumper).",
	// the record of a run, and of a profile
	"runtime.traceLocker.G", "runtime.traceLocker.H", "runtime.traceLocker.P", "runtime.traceLocker.S", "runtime.traceLocker.e",
	"runtime.traceWriter.", "runtime.traceAdvance", "runtime.traceSyncBatch", "runtime.traceRegisterLabelsAndReasons",
	"runtime.traceThreadDestroy", "runtime.traceReadCPU", "runtime.traceStopReadCPU", "runtime.traceCPUFlush", "runtime.traceStack",
	"runtime.makeTraceFrame", "runtime.dumpStacksRec", "runtime.dumpTypesRec", "runtime.(*traceMap).", "runtime.(*traceRegionAlloc).",
	"runtime.(*traceSchedResourceState).", "runtime.(*traceStringTable).", "runtime.(*traceStackTable).", "runtime.(*traceTypeTable).",
	"runtime.(*profBuf).",
}

// unused are the beginnings of the names of functions that the core links and cannot come to: powers modulo a number and inverses
// (decimals ask for powers alone), compression at its lowest effort (texts are compressed at the highest), and methods taken from a value
// by reflection. Should one be called after all, the core stops, and the page starts another; it never goes on with a wrong number.
var unused = []string{
	"math/big.nat.expNNMontgomery", "math/big.nat.expNNWindowed", "math/big.nat.montgomery", "math/big.nat.subMod2N", "math/big.(*Int).ModInverse",
	"compress/flate.(*deflateFast).", "compress/flate.(*compressor).encSpeed", "compress/flate.(*compressor).storeHuff",
	"compress/flate.(*fastEncL", "compress/flate.(*fastGen).", "compress/flate.newFastEnc",
	"reflect.callMethod", "reflect.makeMethodValue",
}

// stops is the body of a function that stops the instance.
var stops = []byte{0, 0x00, 0x0b}

// returns is the body of a function that returns at once (cmd/internal/obj/wasm): it takes the place to return to off the stack.
var returns = []byte{0, 0x23, 0, 0x41, 8, 0x6a, 0x24, 0, 0x41, 0, 0x0b}

// silence gives the body of the code section in which the functions named above return or stop at once. Their entries stay.
func (m memory) silence(t tables, code []byte) ([]byte, error) {
	count, n := binary.Uvarint(code)
	if n <= 0 || count != uint64(len(t.entries)) {
		return nil, errModule
	}
	out, rest := slices.Clone(code[:n]), code[n:]
	for _, f := range t.entries {
		size, n := binary.Uvarint(rest)
		if n <= 0 || uint64(len(rest)-n) < size {
			return nil, errModule
		}
		body := rest[n:][:size]
		rest = rest[n+int(size):]
		name := m.name(t, m.u32(f+nameOff))
		begins := func(with string) bool { return strings.HasPrefix(name, with) }
		switch {
		case slices.ContainsFunc(silent, begins):
			body = returns
		case slices.ContainsFunc(unused, begins):
			body = stops
		}
		out = append(binary.AppendUvarint(out, uint64(len(body))), body...)
	}
	return out, nil
}
