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
	// download: to be kept on a disk, not to be shown by this host.
	download bool
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

// Build makes the page from the module at root, as a folder and as one file.
func Build(root string) (*Site, error) {
	module, err := wasm.BuildPageCore(root)
	if err != nil {
		return nil, err
	}
	return buildAround(module, root)
}

// buildAround makes the page around a core that is built already.
func buildAround(module []byte, root string) (*Site, error) {
	s := &Site{files: map[string]*file{}}
	p, err := readParts(module, root)
	if err != nil {
		return nil, err
	}
	app, err := p.bundle(root, s.addHashed, false)
	if err != nil {
		return nil, err
	}
	if err := s.addPage(p, s.addHashed("app", ".js", app), s.addHashed("style", ".css", p.style)); err != nil {
		return nil, err
	}
	if err := s.addWorker(root); err != nil {
		return nil, err
	}
	// After the worker, which must not keep the page twice.
	one, err := p.oneFile(root)
	if err != nil {
		return nil, err
	}
	s.files[oneName] = &file{data: one, download: true}
	return s, nil
}

// parts is what both shipments are made of.
type parts struct {
	core, book, demo, style, icon, html []byte
	messages                            map[words.Lang][]byte
	version                             string
}

func readParts(module []byte, root string) (*parts, error) {
	page := filepath.Join(root, "wasm", "page")
	p := &parts{messages: map[words.Lang][]byte{}}
	var err error
	if p.core, err = wasm.Fold(module); err != nil {
		return nil, err
	}
	if p.book, err = makeBook(); err != nil {
		return nil, err
	}
	for _, lang := range words.Langs {
		if p.messages[lang], err = json.Marshal(allWords(lang)); err != nil {
			return nil, err
		}
	}
	all := sha256.New()
	for _, data := range [][]byte{p.core, p.book, []byte(quote(p.messages))} {
		all.Write(data)
	}
	for name, to := range map[string]*[]byte{
		"demo/barn.json": &p.demo, "style.css": &p.style, "icon.svg": &p.icon, "index.html": &p.html,
	} {
		if *to, err = os.ReadFile(filepath.Join(page, filepath.FromSlash(name))); err != nil {
			return nil, err
		}
	}
	sources, err := filepath.Glob(filepath.Join(page, "src", "*.ts"))
	if err != nil {
		return nil, err
	}
	for _, name := range sources {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		all.Write(text)
	}
	all.Write(p.style)
	all.Write(p.html)
	// The version on the screen tells two builds apart, whatever the number says.
	p.version = core.Version + "+" + hex.EncodeToString(all.Sum(nil))[:7]
	p.style, err = minifyCSS(p.style)
	return p, err
}

// placer puts a part where the page finds it, and gives its address.
type placer func(name, ext string, data []byte) string

// bundle makes the page's script, with the addresses of the other parts.
func (p *parts) bundle(root string, place placer, one bool) ([]byte, error) {
	type language struct {
		URL  string `json:"url"`
		Name string `json:"name"`
	}
	messages := map[words.Lang]language{}
	for _, lang := range words.Langs {
		messages[lang] = language{place("messages-"+string(lang), ".json", p.messages[lang]), words.Page(lang)["page.language"]}
	}
	return bundle(root, "main.ts", map[string]string{
		"CORE_URL": quote(place("core", ".wasm", p.core)), "BOOK_URL": quote(place("catalogue", ".json", p.book)),
		"DEMO_URL": quote(place("demo", ".json", p.demo)), "MESSAGES": quote(messages),
		"VERSION": quote(p.version), "ONE_FILE": quote(one),
	})
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
func (s *Site) addPage(p *parts, app, style string) error {
	iconURL := s.addHashed("icon", ".svg", p.icon)
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
	manifestURL := s.addHashed("manifest", ".webmanifest", manifest)
	html, err := p.page(policy, template.HTML(
		`<link rel="stylesheet" href="`+style+`">`+"\n"+
			`<link rel="manifest" href="`+manifestURL+`">`+"\n"+
			`<link rel="icon" href="`+iconURL+`" type="image/svg+xml">`+"\n"+
			`<link rel="apple-touch-icon" href="`+touchURL+`">`+"\n"+
			`<script type="module" src="`+app+`"></script>`), "")
	if err != nil {
		return err
	}
	s.files["index.html"] = &file{data: html}
	return nil
}

// page makes the HTML, with what a shipment needs in its head and behind its body.
func (p *parts) page(policy string, head, tail template.HTML) ([]byte, error) {
	english := allWords(words.English)
	say := func(key string) string { return english[key] }
	t, err := template.New("index.html").Funcs(template.FuncMap{"say": say}).Parse(string(p.html))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = t.Execute(&out, map[string]any{"Policy": policy, "Head": head, "Tail": tail, "Sheets": blankSheets()})
	return out.Bytes(), err
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
		"CORE": quote(names[slices.IndexFunc(names, func(name string) bool { return strings.HasSuffix(name, ".wasm") })]),
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
