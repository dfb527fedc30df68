// Package lib writes the core as a package for JavaScript and TypeScript: the WebAssembly,
// a loader for browsers, node and workers, and the types of everything that crosses.
package lib

import (
	_ "embed"
	"os"
	"path/filepath"

	"whorl.example/wasm"
	"whorl.example/wasm/api"
)

var (
	//go:embed whorl.js
	loader []byte
	//go:embed README.md
	readme []byte
)

// Write makes the package in a folder: whorl.wasm, whorl.js, whorl.d.ts, wasm_exec.js,
// README.md, LICENSE, NOTICE and package.json. root is the directory of the module. Files of
// another name in the folder are left alone. The remark is that of the core.
func Write(root, dir string) (remark string, err error) {
	core, err := wasm.BuildCore(root)
	if err != nil {
		return "", err
	}
	at, err := wasm.Glue(root)
	if err != nil {
		return "", err
	}
	glue, err := os.ReadFile(at)
	if err != nil {
		return "", err
	}
	licence, err := os.ReadFile(filepath.Join(root, "LICENSE"))
	if err != nil {
		return "", err
	}
	notices, err := wasm.Notices(root)
	if err != nil {
		return "", err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return "", err
	}
	for name, text := range map[string][]byte{
		"whorl.wasm": core.Module, "whorl.js": loader, "whorl.d.ts": []byte(Types()), "wasm_exec.js": glue,
		"README.md": readme, "LICENSE": licence, "NOTICE": []byte(notices), "package.json": []byte(manifest),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
			return "", err
		}
	}
	return core.Remark(), nil
}

const manifest = `{
  "name": "whorl",
  "version": "` + api.Version + `",
  "description": "What is normal for one horse, and how far an exam is from it",
  "license": "Apache-2.0",
  "type": "module",
  "exports": {
    ".": {"types": "./whorl.d.ts", "default": "./whorl.js"},
    "./whorl.wasm": "./whorl.wasm"
  },
  "types": "./whorl.d.ts",
  "files": ["whorl.js", "whorl.d.ts", "whorl.wasm", "wasm_exec.js", "NOTICE"],
  "engines": {"node": ">=18"}
}
`
