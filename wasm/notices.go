package wasm

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// A Part is software of others that is shipped, with the text of its licence.
type Part struct{ Path, Version, Licence string }

// GoItself is the path of Go's own part, as lists of modules name its standard library.
const GoItself = "std"

func (p Part) name() string {
	if p.Path == GoItself {
		return p.Version + ": the run-time, the standard library and the loader wasm_exec.js"
	}
	return p.Path + " " + p.Version
}

// Notices is what goes with what is shipped: whose software is in it, and under which licence. The list is made of the modules that the core
// for the browser needs, Go, and whatever else of the caller's own modules has left code of its own in the shipment.
func Notices(root string, besides ...string) (string, error) {
	parts, err := Parts(root, besides...)
	if err != nil {
		return "", err
	}
	return NoticesOf(root, parts)
}

// NoticesOf is the same of parts that are known.
func NoticesOf(root string, parts []Part) (string, error) {
	notice, err := os.ReadFile(filepath.Join(root, "NOTICE"))
	if err != nil {
		return "", err
	}
	ours, err := os.ReadFile(filepath.Join(root, "LICENSE"))
	if err != nil {
		return "", err
	}
	whose, _, _ := strings.Cut(strings.TrimSpace(string(notice)), "\n\n") // what follows is of the repository
	var text strings.Builder
	fmt.Fprintf(&text, "%s\nLicensed under the Apache License, Version 2.0, which stands at the end.\n\nIn it is software of others:\n", whose)
	for _, p := range parts {
		fmt.Fprintf(&text, "- %s\n", p.name())
	}
	terms, _, _ := strings.Cut(string(ours), "   APPENDIX: How to apply") // that is for who writes software
	licence := func(name, terms string) {
		fmt.Fprintf(&text, "\n%s\n%s\n\n%s\n", strings.Repeat("=", 72), name, strings.TrimRight(strings.Trim(terms, "\n"), " \n"))
	}
	for _, p := range parts {
		licence(p.name(), p.Licence)
	}
	licence("Whorl", terms)
	return text.String(), nil
}

// Parts gives Go and the modules that the core needs, and those besides, with their licences.
func Parts(root string, besides ...string) ([]Part, error) {
	g, err := goOf(root)
	if err != nil {
		return nil, err
	}
	licence, err := os.ReadFile(filepath.Join(g.root, "LICENSE"))
	if err != nil { // some distributions keep it elsewhere
		if licence, err = os.ReadFile(filepath.Join(root, "wasm", "LICENSE.golang")); err != nil {
			return nil, err
		}
	}
	parts := []Part{{GoItself, g.version, string(licence)}}
	const format = "{{.Path}}\t{{.Version}}\t{{.Dir}}"
	lines, err := Linked(root, "{{with .Module}}{{if not .Main}}"+format+"{{end}}{{end}}")
	if err != nil {
		return nil, err
	}
	for _, module := range besides {
		out, err := exec.Command("go", "list", "-m", "-f", format, module).Output()
		if err != nil {
			return nil, fmt.Errorf("go list -m %s: %w", module, err)
		}
		lines = append(lines, strings.TrimSpace(string(out)))
	}
	slices.Sort(lines)
	for _, line := range slices.Compact(lines) {
		if line == "" {
			continue // a package of ours, or of the standard library
		}
		fields := strings.Split(line, "\t")
		if len(fields) != 3 {
			return nil, fmt.Errorf("go list says %q of a module", line)
		}
		licence, err := licenceIn(fields[2])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", fields[0], err)
		}
		parts = append(parts, Part{fields[0], fields[1], licence})
	}
	return parts, nil
}

// licenceIn gives the text of all that a module's folder has of the kind.
func licenceIn(dir string) (string, error) {
	files, err := os.ReadDir(dir)
	if err != nil {
		return "", err
	}
	var texts []string
	for _, f := range files {
		name := strings.ToUpper(f.Name())
		if f.IsDir() || !slices.ContainsFunc([]string{"LICENSE", "LICENCE", "COPYING", "NOTICE"}, func(s string) bool { return strings.HasPrefix(name, s) }) {
			continue
		}
		text, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			return "", err
		}
		texts = append(texts, strings.ReplaceAll(string(text), "\r\n", "\n"))
	}
	if len(texts) == 0 {
		return "", errors.New("no licence is found, so that it cannot be shipped")
	}
	return strings.Join(texts, "\n"), nil
}
