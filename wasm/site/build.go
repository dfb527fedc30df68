package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"html/template"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"whorl.example/schema"
	"whorl.example/vitals/words"
	"whorl.example/wasm"
	core "whorl.example/wasm/api"
	"whorl.example/wasm/site/static"
)

// moduleRoot gives the folder of Whorl's own module, which holds this one.
func moduleRoot() (string, error) { return wasm.Root() }

// Build makes the page from the module at root, as a folder and as one file.
func Build(root string) (*static.Site, error) {
	built, err := wasm.BuildPageCore(root)
	if err != nil {
		return nil, err
	}
	folded, err := wasm.Fold(built.Module)
	if err != nil {
		return nil, err
	}
	s, err := buildAround(folded, root)
	if err != nil {
		return nil, err
	}
	s.Remark = built.Remark()
	return s, nil
}

// buildAround makes the page around a core that is built and folded already.
func buildAround(folded []byte, root string) (*static.Site, error) {
	s := &static.Site{Files: map[string]*static.File{}}
	p, err := readParts(folded, root)
	if err != nil {
		return nil, err
	}
	style := s.AddHashed("style", ".css", p.style)
	icons, err := addIcons(s, p)
	if err != nil {
		return nil, err
	}
	manifests, err := addManifests(s, root, icons)
	if err != nil {
		return nil, err
	}
	scripts, err := addScripts(s, root, p.defines(s.AddHashed, manifests))
	if err != nil {
		return nil, err
	}
	if err := addPage(s, p, scripts, template.HTML(
		`<link rel="stylesheet" href="`+style+`">`+"\n"+
			`<link rel="manifest" href="`+manifests[words.English]+`">`+"\n"+
			`<link rel="icon" href="`+icons.vector+`" type="image/svg+xml">`+"\n"+
			`<link rel="apple-touch-icon" href="`+icons.small+`">`+"\n")); err != nil {
		return nil, err
	}
	worker, err := bundle(root, "serviceworker.ts", nil)
	if err != nil {
		return nil, err
	}
	if err := s.AddWorker(worker); err != nil {
		return nil, err
	}
	one, err := p.oneFile(root)
	if err != nil {
		return nil, err
	}
	s.Files[static.OneName] = &static.File{Data: one}
	return s, nil
}

// parts is what both shipments are made of.
type parts struct {
	core, book, demo, style, icon, html []byte
	notices                             string // whose software is in the page, with the licences
	messages                            messages
	version                             string
}

func readParts(folded []byte, root string) (*parts, error) {
	page := filepath.Join(root, "wasm", "page")
	p := &parts{core: folded}
	var err error
	if p.book, err = makeBook(); err != nil {
		return nil, err
	}
	for name, to := range map[string]*[]byte{
		"demo/barn.json": &p.demo, "style.css": &p.style, "icon.svg": &p.icon, "index.html": &p.html,
	} {
		if *to, err = os.ReadFile(filepath.Join(page, filepath.FromSlash(name))); err != nil {
			return nil, err
		}
	}
	// Of esbuild there are the few functions that hold scripts together.
	if p.notices, err = wasm.Notices(root, "github.com/evanw/esbuild"); err != nil {
		return nil, err
	}
	p.demo = keyed(p.demo)
	sources, err := pageSources(filepath.Join(page, "src"))
	if err != nil {
		return nil, err
	}
	first, err := firstSources(root)
	if err != nil {
		return nil, err
	}
	if p.messages, err = readMessages(sources, first); err != nil {
		return nil, err
	}
	all := sha256.New()
	for _, data := range [][]byte{p.core, p.book, p.demo} {
		all.Write(data)
	}
	for _, lang := range words.Langs() {
		all.Write([]byte(quote(allWords(lang))))
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

// pageSources are the page's modules, in the order of their paths.
func pageSources(src string) (names []string, err error) {
	err = filepath.WalkDir(src, func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && filepath.Ext(name) == ".ts" {
			names = append(names, name)
		}
		return err
	})
	return names, err
}

// placer puts a part where the page finds it, and gives its address.
type placer func(name, ext string, data []byte) string

// defines are what the page's script is told: the addresses of the other parts, and what is no part of its own.
// A page without manifests is one file.
func (p *parts) defines(place placer, manifests map[words.Lang]string) map[string]string {
	type language struct {
		URL   string `json:"url"`
		Later string `json:"later"`
		Core  string `json:"core"`
		Name  string `json:"name"`
	}
	languages := map[words.Lang]language{}
	for _, lang := range words.Langs() {
		languages[lang] = language{
			URL:   place("messages-"+string(lang), ".json", []byte(quote(texts(lang, p.messages.page)))),
			Later: place("more-"+string(lang), ".json", []byte(quote(texts(lang, p.messages.later)))),
			Core:  place("told-"+string(lang), ".json", []byte(quote(texts(lang, p.messages.core)))),
			Name:  words.Page(lang)["page.language"],
		}
	}
	return map[string]string{
		"WAITS": quote(makeWaits()), "CORE_URL": quote(place("core", ".wasm", p.core)), "BOOK": string(p.book), "DEMO_URL": quote(place("demo", ".json", p.demo)),
		"MESSAGES": quote(languages), "KEYS": quote(packKeys(p.messages.page)),
		"LATER_KEYS_URL": quote(place("more", ".json", []byte(quote(packKeys(p.messages.later))))),
		"CORE_KEYS_URL":  quote(place("keys", ".json", []byte(quote(packKeys(p.messages.core))))),
		"NOTICES_URL":    quote(place("notices", ".txt", []byte(p.notices))),
		"VERSION":        quote(p.version), "ONE_FILE": quote(manifests == nil), "MANIFESTS": quote(manifests), "MOST": strconv.Itoa(schema.MaxBytes >> 20),
	}
}

// addPage makes index.html.
func addPage(s *static.Site, p *parts, scripts []string, head template.HTML) error {
	var preload strings.Builder
	for _, script := range scripts[1:] {
		preload.WriteString(`<link rel="modulepreload" href="` + script + "\">\n")
	}
	html, err := p.page(static.Policy, template.HTML(
		string(head)+preload.String()+`<script type="module" src="`+scripts[0]+`"></script>`), "", false)
	if err != nil {
		return err
	}
	s.Files["index.html"] = &static.File{Data: html}
	return nil
}

// page makes the HTML, with what a shipment needs in its head and behind its body.
func (p *parts) page(policy string, head, tail template.HTML, one bool) ([]byte, error) {
	english := allWords(words.English)
	say := func(key string) string { return english[key] }
	t, err := template.New("index.html").Funcs(template.FuncMap{"say": say}).Parse(string(p.html))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = t.Execute(&out, map[string]any{"Policy": policy, "Head": head, "Tail": tail, "Sheets": blankSheets(one)})
	return out.Bytes(), err
}

func quote(v any) string {
	var text strings.Builder
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		panic(err) // strings, maps and lists of strings always marshal
	}
	return strings.TrimSpace(text.String())
}
