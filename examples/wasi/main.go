package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/tetratelabs/wazero"
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
	host, err := Open(ctx, code, keep())
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
