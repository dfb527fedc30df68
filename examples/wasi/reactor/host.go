// Package reactor is a host of Whorl's reactor (whorl.example/wasm/wasi) in wazero: what a
// program in any other language would write against its own WebAssembly runtime.
package reactor

import (
	"context"
	"errors"
	"fmt"

	"github.com/tetratelabs/wazero"
	wasm "github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"
)

// abi is the version of the reactor's calls that this host speaks.
const abi = 1

// Host holds one instance of the reactor. It answers one call at a time.
type Host struct {
	runtime            wazero.Runtime
	compiled           wazero.CompiledModule
	module             wasm.Module
	alloc, free, whorl wasm.Function
}

// Open compiles a reactor and starts it. The cache, if not nil, keeps the compiled code,
// which takes a second to make.
func Open(ctx context.Context, code []byte, cache wazero.CompilationCache) (*Host, error) {
	config := wazero.NewRuntimeConfig().WithMemoryLimitPages(4096) // 256 MiB
	if cache != nil {
		config = config.WithCompilationCache(cache)
	}
	h := &Host{runtime: wazero.NewRuntimeWithConfig(ctx, config)}
	if _, err := wasi_snapshot_preview1.Instantiate(ctx, h.runtime); err != nil {
		return nil, errors.Join(err, h.Close(ctx))
	}
	var err error
	if h.compiled, err = h.runtime.CompileModule(ctx, code); err == nil {
		err = h.start(ctx)
	}
	if err != nil {
		return nil, errors.Join(err, h.Close(ctx))
	}
	return h, nil
}

// start makes an instance; there may have been one before that died.
func (h *Host) start(ctx context.Context) error {
	if h.module != nil {
		h.module.Close(ctx)
	}
	// Nothing is given to it: no clock but the fake one, no file, no environment.
	module, err := h.runtime.InstantiateModule(ctx, h.compiled, wazero.NewModuleConfig().WithStartFunctions("_initialize").WithName(""))
	if err != nil {
		return err
	}
	h.module = module
	h.alloc, h.free, h.whorl = module.ExportedFunction("whorl_alloc"), module.ExportedFunction("whorl_free"), module.ExportedFunction("whorl_call")
	version := module.ExportedFunction("whorl_abi")
	if version == nil || h.alloc == nil || h.free == nil || h.whorl == nil {
		return errors.New("not a reactor of Whorl")
	}
	got, err := version.Call(ctx)
	if err == nil && got[0] != abi {
		err = fmt.Errorf("the reactor's calls are of version %d, this host's of %d", got[0], abi)
	}
	return err
}

// Close ends the instance and its runtime.
func (h *Host) Close(ctx context.Context) error { return h.runtime.Close(ctx) }

// Call runs one operation. The answer may list faults; an error means that the reactor
// itself failed, and that another was started in its place.
func (h *Host) Call(ctx context.Context, op string, request []byte) ([]byte, error) {
	answer, err := h.call(ctx, op, request)
	if err != nil {
		return nil, errors.Join(err, h.start(ctx))
	}
	return answer, nil
}

func (h *Host) call(ctx context.Context, op string, request []byte) ([]byte, error) {
	// One block for both texts saves two calls.
	size := uint64(max(1, len(op)+len(request)))
	place, err := h.alloc.Call(ctx, size)
	if err != nil {
		return nil, err
	}
	at := uint32(place[0])
	memory := h.module.Memory()
	if at == 0 || !memory.WriteString(at, op) || !memory.Write(at+uint32(len(op)), request) {
		return nil, fmt.Errorf("the reactor has no room for %d bytes", size)
	}
	got, err := h.whorl.Call(ctx, place[0], uint64(len(op)), place[0]+uint64(len(op)), uint64(len(request)))
	if err != nil {
		return nil, err
	}
	view, ok := memory.Read(uint32(got[0]>>32), uint32(got[0]))
	if !ok {
		return nil, errors.New("the answer lies outside the reactor's memory")
	}
	answer := append([]byte(nil), view...)
	for _, block := range []uint64{place[0], got[0] >> 32} {
		if _, err := h.free.Call(ctx, block); err != nil {
			return nil, err
		}
	}
	return answer, nil
}
