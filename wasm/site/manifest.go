package main

import (
	"encoding/json"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"slices"

	"whorl.example/vitals/words"
	"whorl.example/wasm/site/static"
)

// pictured are the screens that are shown before somebody installs the page, and in the README. TestPictures takes them.
var pictured = []string{"barn", "exam", "call"}

// pictureName is a picture's name within page/pictures.
func pictureName(screen string, lang words.Lang) string { return screen + "-" + string(lang) + ".png" }

// icons are what manifest and page name.
type icons struct{ vector, small, large, maskable string }

func addIcons(s *static.Site, p *parts) (i icons, err error) {
	i.vector = s.AddHashed("icon", ".svg", p.icon)
	for _, drawn := range []struct {
		to    *string
		name  string
		size  int
		outer float64
	}{
		{&i.small, static.PicturePrefix + "small", 192, safeOuter}, {&i.large, static.PicturePrefix + "icon", 512, wholeOuter}, {&i.maskable, static.PicturePrefix + "mask", 512, safeOuter},
	} {
		picture, err := drawIcon(drawn.size, drawn.outer)
		if err != nil {
			return i, err
		}
		*drawn.to = s.AddHashed(drawn.name, ".png", picture)
	}
	return i, nil
}

// appID names the page among the apps of its host, whatever its language and under whatever path it lies: the records are the host's,
// so that two apps would show the same. A page that is moved to another path stays the app that was installed.
const appID = "/whorl"

// addManifests adds a manifest for each language, and gives their names.
func addManifests(s *static.Site, root string, i icons) (map[words.Lang]string, error) {
	names := map[words.Lang]string{}
	for _, lang := range words.Langs() {
		all := allWords(lang)
		pictures, err := addPictures(s, root, lang)
		if err != nil {
			return nil, err
		}
		shortcut := func(key, route string) map[string]any {
			return map[string]any{"name": all[key], "url": "./#/" + route, "icons": []any{map[string]string{"src": i.small, "sizes": "192x192", "type": "image/png"}}}
		}
		manifest, err := json.Marshal(map[string]any{
			"id": appID, "name": all["page.name"], "short_name": all["page.name"], "start_url": "./", "scope": "./", "display": "standalone",
			"background_color": "#ffffff", "theme_color": "#ffffff", "description": all["page.description"], "lang": lang, "dir": "ltr",
			"categories": []string{"health", "lifestyle", "utilities"},
			"icons": []map[string]string{
				{"src": i.vector, "sizes": "any", "type": "image/svg+xml"},
				{"src": i.small, "sizes": "192x192", "type": "image/png"},
				{"src": i.large, "sizes": "512x512", "type": "image/png"},
				{"src": i.maskable, "sizes": "512x512", "type": "image/png", "purpose": "maskable"},
			},
			"screenshots": pictures,
			"shortcuts":   []any{shortcut("page.wrong", "wrong"), shortcut("page.quiet", "quiet")},
			"file_handlers": []any{map[string]any{
				"action": "./#/files", "accept": map[string][]string{"application/json": {".json"}},
			}},
			"share_target": map[string]any{
				"action": "./share", "method": "POST", "enctype": "multipart/form-data",
				"params": map[string]any{"text": "text", "url": "url", "files": []any{map[string]any{"name": "file", "accept": []string{"application/json", ".json", "text/plain", ".txt"}}}},
			},
		})
		if err != nil {
			return nil, err
		}
		names[lang] = s.AddHashed("manifest-"+string(lang), ".webmanifest", manifest)
	}
	return names, nil
}

// addPictures adds the pictures of a language.
func addPictures(s *static.Site, root string, lang words.Lang) (shown []map[string]string, err error) {
	for _, screen := range pictured {
		name := filepath.Join(root, "wasm", "page", "pictures", pictureName(screen, lang))
		data, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		size, err := sizeOf(name)
		if err != nil {
			return nil, err
		}
		shown = append(shown, map[string]string{
			"src": s.AddHashed(static.PicturePrefix+screen+"-"+string(lang), ".png", data), "sizes": size, "type": "image/png",
			"form_factor": "narrow", "label": allWords(lang)["page.picture."+screen],
		})
	}
	return slices.Clip(shown), nil
}

func sizeOf(name string) (string, error) {
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	c, err := png.DecodeConfig(f)
	return fmt.Sprintf("%dx%d", c.Width, c.Height), err
}
