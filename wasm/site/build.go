package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"whorl.example/wasm"
	core "whorl.example/wasm/api"

	"whorl.example/vitals/words"
)

// policy is the Content-Security-Policy of the hosted page: nothing from elsewhere,
// nothing inline, and nothing leaves.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; " +
	"connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"

// Site is the page as files, by their name in the folder.
type Site struct {
	files map[string]*file
}

// file is one file, with its compressed forms where they are smaller.
type file struct {
	data, br, gz []byte
	// lasting: the name holds the hash of the content, so that it may be kept for ever.
	lasting bool
}

// moduleRoot gives the folder of the module that the command runs in.
func moduleRoot() (string, error) {
	out, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return "", fmt.Errorf("go env GOMOD: %w", err)
	}
	mod := strings.TrimSpace(string(out))
	if mod == "" || mod == os.DevNull {
		return "", errors.New("not inside the module: run this from a folder of the repository")
	}
	return filepath.Dir(mod), nil
}

// Build makes the page from the module at root.
func Build(root string) (*Site, error) {
	s := &Site{files: map[string]*file{}}
	page := filepath.Join(root, "wasm", "page")

	compiled, err := wasm.BuildPageCore(root)
	if err != nil {
		return nil, err
	}
	coreURL := s.addHashed("core", ".wasm", compiled)
	book, err := makeBook()
	if err != nil {
		return nil, err
	}
	bookURL := s.addHashed("catalogue", ".json", book)
	type language struct {
		URL  string `json:"url"`
		Name string `json:"name"`
	}
	messages, figures := map[words.Lang]language{}, map[words.Lang]string{}
	for _, lang := range words.Langs {
		text, err := json.Marshal(allWords(lang))
		if err != nil {
			return nil, err
		}
		messages[lang] = language{s.addHashed("messages-"+string(lang), ".json", text), words.Page(lang)["page.language"]}
		if text, err = json.Marshal(makeFigures(lang)); err != nil {
			return nil, err
		}
		figures[lang] = s.addHashed("figures-"+string(lang), ".json", text)
	}
	demo, err := os.ReadFile(filepath.Join(page, "demo", "barn.json"))
	if err != nil {
		return nil, err
	}
	demoURL := s.addHashed("demo", ".json", demo)

	define := map[string]string{
		"CORE_URL": quote(coreURL), "BOOK_URL": quote(bookURL), "DEMO_URL": quote(demoURL),
		"MESSAGES": quote(messages), "FIGURES": quote(figures), "VERSION": quote(core.Version),
	}
	app, err := bundle(root, "main.ts", define)
	if err != nil {
		return nil, err
	}
	appURL := s.addHashed("app", ".js", app)
	css, err := os.ReadFile(filepath.Join(page, "style.css"))
	if err != nil {
		return nil, err
	}
	if css, err = minifyCSS(css); err != nil {
		return nil, err
	}
	if err := s.addPage(page, appURL, s.addHashed("style", ".css", css)); err != nil {
		return nil, err
	}
	return s, s.addWorker(root)
}

// wasmExec is the glue of the Go version that built the core; no other will do.
func wasmExec() (string, error) {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", fmt.Errorf("go env GOROOT: %w", err)
	}
	return filepath.Join(strings.TrimSpace(string(out)), "lib", "wasm", "wasm_exec.js"), nil
}

// bundle makes one script of a TypeScript module and what it imports.
func bundle(root, entry string, define map[string]string) ([]byte, error) {
	glue, err := wasmExec()
	if err != nil {
		return nil, err
	}
	result := api.Build(api.BuildOptions{
		EntryPoints:       []string{filepath.Join(root, "wasm", "page", "src", entry)},
		AbsWorkingDir:     root,
		Bundle:            true,
		Format:            api.FormatIIFE,
		Target:            api.ES2021,
		MinifyWhitespace:  true,
		MinifySyntax:      true,
		MinifyIdentifiers: true,
		Charset:           api.CharsetUTF8,
		Alias:             map[string]string{"wasm_exec": glue},
		Define:            define,
		LegalComments:     api.LegalCommentsInline,
		TsconfigRaw:       `{}`,
	})
	return single(entry, result.OutputFiles, result.Errors)
}

func minifyCSS(css []byte) ([]byte, error) {
	result := api.Transform(string(css), api.TransformOptions{Loader: api.LoaderCSS, MinifyWhitespace: true, MinifySyntax: true})
	return single("style.css", []api.OutputFile{{Contents: result.Code}}, result.Errors)
}

func single(name string, files []api.OutputFile, faults []api.Message) ([]byte, error) {
	if len(faults) > 0 {
		lines := api.FormatMessages(faults, api.FormatMessagesOptions{})
		return nil, fmt.Errorf("%s:\n%s", name, strings.Join(lines, "\n"))
	}
	return files[0].Contents, nil
}

// addPage makes index.html, the icons and the manifest.
func (s *Site) addPage(page, app, style string) error {
	icon, err := os.ReadFile(filepath.Join(page, "icon.svg"))
	if err != nil {
		return err
	}
	iconURL := s.addHashed("icon", ".svg", icon)
	touch, err := drawIcon(180)
	if err != nil {
		return err
	}
	large, err := drawIcon(512)
	if err != nil {
		return err
	}
	touchURL, largeURL := s.addHashed("icon-180", ".png", touch), s.addHashed("icon-512", ".png", large)
	english := allWords(words.English)
	say := func(key string) string { return english[key] }
	manifest, err := json.Marshal(map[string]any{
		"name": say("page.name"), "short_name": say("page.name"), "start_url": "./", "scope": "./", "display": "standalone",
		"background_color": "#ffffff", "theme_color": "#ffffff", "description": say("page.description"), "lang": "en",
		"icons": []map[string]string{
			{"src": iconURL, "sizes": "any", "type": "image/svg+xml"},
			{"src": touchURL, "sizes": "180x180", "type": "image/png"},
			{"src": largeURL, "sizes": "512x512", "type": "image/png", "purpose": "any maskable"},
		},
	})
	if err != nil {
		return err
	}
	html, err := os.ReadFile(filepath.Join(page, "index.html"))
	if err != nil {
		return err
	}
	t, err := template.New("index.html").Funcs(template.FuncMap{"say": say}).Parse(string(html))
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := t.Execute(&out, map[string]any{
		"Policy": policy, "Style": style, "App": app, "Icon": iconURL, "Touch": touchURL,
		"Manifest": s.addHashed("manifest", ".webmanifest", manifest), "Sheet": blankSheet(),
	}); err != nil {
		return err
	}
	s.files["index.html"] = &file{data: out.Bytes()}
	return nil
}

// addWorker makes the service worker, which knows every other file.
func (s *Site) addWorker(root string) error {
	names := make([]string, 0, len(s.files)+1)
	all := sha256.New()
	for name := range s.files {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(all, "%s %x\n", name, sha256.Sum256(s.files[name].data))
	}
	names[slices.Index(names, "index.html")] = "./"
	script, err := bundle(root, "worker.ts", map[string]string{
		"VERSION": quote(core.Version + "-" + hex.EncodeToString(all.Sum(nil))[:12]), "FILES": quote(names),
	})
	if err != nil {
		return err
	}
	s.files["sw.js"] = &file{data: script}
	return nil
}

// addHashed adds a file under a name that holds the hash of its content.
func (s *Site) addHashed(name, ext string, data []byte) string {
	sum := sha256.Sum256(data)
	full := name + "-" + hex.EncodeToString(sum[:])[:12] + ext
	s.files[full] = &file{data: data, lasting: true}
	return full
}

func quote(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err) // strings, maps and lists of strings always marshal
	}
	return string(text)
}
