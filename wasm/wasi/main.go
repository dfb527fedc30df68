//go:build wasip1

// Command wasi is Whorl for any language that has a WebAssembly runtime with WASI
// preview 1: a reactor that exports package api.
//
//	GOOS=wasip1 GOARCH=wasm go build -buildmode=c-shared -o whorl.wasm ./wasm/wasi
//
// The host instantiates the module, calls _initialize once, and then, as often as it likes:
//
//	whorl_abi() → i32                  the version of these calls, 1
//	whorl_alloc(size i32) → i32        the place of size bytes for the host to write to; 0 if
//	                                   size is 0 or over [MaxBlock]
//	whorl_call(op, opLen, request, requestLen i32) → i64
//	                                   the answer: its place in the upper 32 bits, its length in bytes
//	                                   in the lower 32
//	whorl_free(place i32)              gives a block back, of whorl_alloc or an answer
//
// Texts are UTF-8 without a NUL at the end. op and request must lie within blocks of
// whorl_alloc that were not freed; a length of 0 needs no block. They stay the host's. Every
// answer is the host's too and must be freed; it stays where it is until then. Memory may
// grow during any of the calls, so that a view of it must be taken anew after each.
//
// One instance answers one call at a time. If a call traps (memory at its end), the instance
// is dead: make another; nothing is held between calls. The module reads no clock that
// matters, no file, no environment and no network; what Go's runtime imports of WASI are
// clock_time_get, random_get and the like, and fd_write for the text of a crash.
package main

import (
	"runtime"
	"unsafe"

	"whorl.example/wasm/api"
)

// MaxBlock is the most that whorl_alloc gives, in bytes: a barn file of the largest size,
// with all its quotes escaped inside a request.
const MaxBlock = 64 << 20

// blocks are what the host holds, by place. The collector neither moves nor frees them.
var blocks = map[uint32][]byte{}

// misplaced answers a call whose texts are not where the host said.
const misplaced = `{"ok":false,"faults":[{"code":"not-text","path":"","sentence":"The operation and its request must lie in blocks of whorl_alloc."}]}`

func main() {} // never called in a reactor

//go:wasmexport whorl_abi
func abi() uint32 { return 1 }

//go:wasmexport whorl_alloc
func alloc(size uint32) uint32 {
	if size == 0 || size > MaxBlock {
		return 0
	}
	return hold(make([]byte, size))
}

//go:wasmexport whorl_free
func free(place uint32) { delete(blocks, place) }

//go:wasmexport whorl_call
func call(op, opLen, request, requestLen uint32) uint64 {
	name, okName := text(op, opLen)
	body, okBody := text(request, requestLen)
	answer := []byte(misplaced)
	// A reactor goes on only while it is called: without a turn of its own the collector can stay in the middle of its work,
	// and everything is kept from then on.
	runtime.Gosched()
	if okName && okBody {
		answer = api.Call(string(name), body)
	}
	return uint64(hold(answer))<<32 | uint64(len(answer))
}

// hold keeps a block until the host frees it, and gives its place. It has at least a byte.
func hold(block []byte) uint32 {
	place := uint32(uintptr(unsafe.Pointer(unsafe.SliceData(block))))
	blocks[place] = block
	return place
}

// text gives the bytes at a place, if one block of the host holds all of them.
func text(place, length uint32) ([]byte, bool) {
	if length == 0 {
		return nil, true
	}
	if block, ok := blocks[place]; ok && uint64(length) <= uint64(len(block)) {
		return block[:length], true
	}
	// Both texts in one block, one after the other.
	for start, block := range blocks {
		if place > start && uint64(place-start)+uint64(length) <= uint64(len(block)) {
			return block[place-start:][:length], true
		}
	}
	return nil, false
}
