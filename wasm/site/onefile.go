package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html/template"
	"regexp"
	"strings"
)

// endsScript is what a plain text within a script element must not have.
var endsScript = regexp.MustCompile(`(?i)</?script|<!--`)

// oneFile makes the page as one file: everything stands in it, and its policy has no source
// of anything but itself, so that nothing can be fetched and nothing can leave.
func (p *parts) oneFile(root string) ([]byte, error) {
	var inert strings.Builder
	var faulty error
	place := func(name, ext string, data []byte) string {
		kind, text := "application/json", strings.ReplaceAll(string(data), "<", `\u003c`)
		switch ext {
		case ".txt":
			if kind, text = "text/plain", string(data); endsScript.MatchString(text) {
				faulty = fmt.Errorf("%s: a text that would end before its end", name)
			}
		case ".wasm":
			kind = "application/gzip"
			var zipped bytes.Buffer
			z, err := gzip.NewWriterLevel(&zipped, gzip.BestCompression)
			if err != nil {
				faulty = err
				return ""
			}
			z.Write(data) // into memory, which does not fail
			z.Close()
			text = base64.StdEncoding.EncodeToString(zipped.Bytes())
		}
		inert.WriteString(`<script type="` + kind + `" id="part-` + name + `">` + text + "</script>\n")
		return "#part-" + name
	}
	app, err := bundle(root, "main.ts", p.defines(place, nil))
	if err != nil {
		return nil, err
	}
	if faulty != nil {
		return nil, faulty
	}
	script, style := string(bytes.TrimSpace(app)), string(bytes.TrimSpace(p.style))
	policy := "default-src 'none'; script-src 'wasm-unsafe-eval' " + hashed(script) + "; style-src " + hashed(style) +
		"; img-src data: blob:; base-uri 'none'; form-action 'none'"
	icon := "data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(p.icon)
	return p.page(policy,
		template.HTML("<style>"+style+"</style>\n"+`<link rel="icon" href="`+icon+`" type="image/svg+xml">`),
		template.HTML(inert.String()+"<script>"+script+"</script>\n"), true)
}

// hashed is the source expression of a policy for one inline script or style.
func hashed(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
