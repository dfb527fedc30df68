package main

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"os"
	"strings"

	clinics "whorl.example/schema/pack"
	"whorl.example/vitals"
)

// packName is where the page looks for a clinic's file: beside itself.
const packName = "clinic.json"

// readPack reads a clinic's file; the error names the file, the line and the fault of each.
func readPack(name string) ([]byte, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	_, err = clinics.Decode(text)
	faults, ok := errors.AsType[vitals.Faults](err)
	if !ok {
		return text, err
	}
	var wrong []string
	lines := clinics.Lines(text, faults)
	for i, f := range faults {
		wrong = append(wrong, fmt.Sprintf("%s:%d: %s: %s", name, lines[i], f.Path, f.Sentence))
	}
	return nil, errors.New(strings.Join(wrong, "\n"))
}

// addPack lays a clinic's file beside the page, kept offline with it, and into the page as one file.
func (s *Site) addPack(root string, text []byte) error {
	if one := s.files[oneName]; one != nil {
		inside := `<body><script type="application/json" id="clinic">` + strings.ReplaceAll(string(text), "<", `\u003c`) + "</script>"
		s.files[oneName] = &file{data: bytes.Replace(one.data, []byte("<body>"), []byte(inside), 1), download: true}
	}
	delete(s.files, "sw.js")
	s.files[packName] = &file{data: text}
	return s.addWorker(root)
}

// copied is a site of the same files, to which more can be added.
func (s *Site) copied() *Site { return &Site{files: maps.Clone(s.files)} }
