package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"whorl.example/wasm"
	"whorl.example/wasm/site/static"
)

// bundling is how esbuild makes scripts of a TypeScript module and what it imports.
func bundling(root, entry string, define map[string]string) (api.BuildOptions, error) {
	glue, err := gluePlugin(root)
	return api.BuildOptions{
		EntryPoints:       []string{filepath.Join(root, "wasm", "page", "src", entry)},
		AbsWorkingDir:     root,
		Bundle:            true,
		Format:            api.FormatIIFE,
		Target:            api.ES2021,
		MinifyWhitespace:  true,
		MinifySyntax:      true,
		MinifyIdentifiers: true,
		Charset:           api.CharsetUTF8,
		Plugins:           []api.Plugin{glue},
		Define:            define,
		LegalComments:     api.LegalCommentsInline,
		// Fields are assigned, as TypeScript does for this target: defining them takes a piece of code that every script then needs.
		TsconfigRaw: `{"compilerOptions":{"useDefineForClassFields":false}}`,
	}, err
}

// gluePlugin gives esbuild the module wasm_exec. Its own way to a file outside the repository would tell in the names of
// scripts where Go is and where the repository is.
func gluePlugin(root string) (api.Plugin, error) {
	file, err := wasm.Glue(root)
	if err != nil {
		return api.Plugin{}, err
	}
	glue, err := os.ReadFile(file)
	if err != nil {
		return api.Plugin{}, err
	}
	const name = "wasm_exec"
	text := string(glue)
	return api.Plugin{Name: name, Setup: func(b api.PluginBuild) {
		b.OnResolve(api.OnResolveOptions{Filter: "^" + name + "$"}, func(api.OnResolveArgs) (api.OnResolveResult, error) {
			return api.OnResolveResult{Path: name, Namespace: name}, nil
		})
		b.OnLoad(api.OnLoadOptions{Filter: ".*", Namespace: name}, func(api.OnLoadArgs) (api.OnLoadResult, error) {
			return api.OnLoadResult{Contents: &text}, nil
		})
	}}, nil
}

// bundle makes one script.
func bundle(root, entry string, define map[string]string) ([]byte, error) {
	options, err := bundling(root, entry, define)
	if err != nil {
		return nil, err
	}
	result := api.Build(options)
	return single(entry, result.OutputFiles, result.Errors)
}

// split makes the page's scripts: what the first screen needs, and what comes later. It gives the names of
// those that the first screen needs, the one to begin with first, and what they are made of.
func split(root string, define map[string]string) (files []api.OutputFile, first, sources []string, err error) {
	options, err := bundling(root, "main.ts", define)
	if err != nil {
		return nil, nil, nil, err
	}
	options.Format, options.Splitting, options.Metafile = api.FormatESModule, true, true
	options.Outdir, options.EntryNames, options.ChunkNames = root, "app-[hash]", "[name]-[hash]"
	result := api.Build(options)
	if err := told("main.ts", result.Errors); err != nil {
		return nil, nil, nil, err
	}
	var meta struct {
		Outputs map[string]struct {
			EntryPoint string
			Imports    []struct{ Path, Kind string }
			Inputs     map[string]struct{ BytesInOutput int }
		}
	}
	if err := json.Unmarshal([]byte(result.Metafile), &meta); err != nil {
		return nil, nil, nil, err
	}
	for name, out := range meta.Outputs {
		if strings.HasSuffix(out.EntryPoint, "main.ts") {
			first = append(first, name)
		}
	}
	for i := 0; i < len(first); i++ {
		for _, needed := range meta.Outputs[first[i]].Imports {
			if needed.Kind == "import-statement" && !slices.Contains(first, needed.Path) {
				first = append(first, needed.Path)
			}
		}
		for source, is := range meta.Outputs[first[i]].Inputs {
			if is.BytesInOutput > 0 && strings.HasSuffix(source, ".ts") {
				sources = append(sources, filepath.Join(root, filepath.FromSlash(source)))
			}
		}
	}
	return result.OutputFiles, first, sources, nil
}

// firstSources are the sources of the scripts that the first screen waits for.
func firstSources(root string) ([]string, error) {
	_, _, sources, err := split(root, map[string]string{"BOOK": "{}", "WAITS": "{}"})
	return sources, err
}

// addScripts adds the page's scripts, and gives the names of those that the first screen needs.
func addScripts(s *static.Site, root string, define map[string]string) ([]string, error) {
	files, first, _, err := split(root, define)
	for _, f := range files {
		s.Files[filepath.Base(f.Path)] = &static.File{Data: f.Contents}
	}
	return first, err
}

func minifyCSS(css []byte) ([]byte, error) {
	result := api.Transform(string(css), api.TransformOptions{Loader: api.LoaderCSS, MinifyWhitespace: true, MinifySyntax: true})
	return single("style.css", []api.OutputFile{{Contents: result.Code}}, result.Errors)
}

func single(name string, files []api.OutputFile, faults []api.Message) ([]byte, error) {
	if err := told(name, faults); err != nil {
		return nil, err
	}
	return files[0].Contents, nil
}

func told(name string, faults []api.Message) error {
	if len(faults) == 0 {
		return nil
	}
	return fmt.Errorf("%s:\n%s", name, strings.Join(api.FormatMessages(faults, api.FormatMessagesOptions{}), "\n"))
}
