// Command wasi runs Whorl as any language with a WebAssembly runtime would: through the
// reactor of whorl.example/wasm/wasi, here in wazero, with no Go of Whorl linked in.
//
//	GOOS=wasip1 GOARCH=wasm go build -buildmode=c-shared -o whorl.wasm ./wasm/wasi
//	go run ./examples/wasi whorl.wasm report < record.json
//
// The operations are those of wasm/api/OPERATIONS.md. The answer goes to standard output; the exit
// code is 2 if it lists faults.
package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/tetratelabs/wazero"

	"whorl.example/examples/wasi/reactor"
)

func main() {
	code, err := run(context.Background(), os.Args[1:], os.Stdin, os.Stdout)
	if err != nil {
		fmt.Fprintln(os.Stderr, "wasi:", err)
	}
	os.Exit(code)
}

func run(ctx context.Context, args []string, in io.Reader, out io.Writer) (int, error) {
	if len(args) != 2 {
		return 2, fmt.Errorf("wasi whorl.wasm OPERATION < request")
	}
	code, err := os.ReadFile(args[0])
	if err != nil {
		return 2, err
	}
	request, err := io.ReadAll(in)
	if err != nil {
		return 2, err
	}
	host, err := reactor.Open(ctx, code, keep())
	if err != nil {
		return 1, err
	}
	defer host.Close(ctx)
	answer, err := host.Call(ctx, args[1], request)
	if err != nil {
		return 1, err
	}
	if _, err := out.Write(append(answer, '\n')); err != nil {
		return 1, err
	}
	if bytes.HasPrefix(answer, []byte(`{"ok":false`)) {
		return 2, nil
	}
	return 0, nil
}

// keep gives the place where compiled code is kept between runs, nil if there is none.
func keep() wazero.CompilationCache {
	dir, err := os.UserCacheDir()
	if err != nil {
		return nil
	}
	cache, err := wazero.NewCompilationCacheWithDir(filepath.Join(dir, "whorl-wazero"))
	if err != nil {
		return nil
	}
	return cache
}
