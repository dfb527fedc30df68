package static

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"strings"

	clinics "whorl.example/schema/pack"
	"whorl.example/vitals"
)

// ClinicName is where the page looks for a clinic's file: beside itself.
const ClinicName = "clinic.json"

// ReadClinic reads a clinic's file; the error names the file, the line and the fault of each.
func ReadClinic(name string) ([]byte, error) {
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

// AddClinic lays a clinic's file beside the page, kept offline with it, and into the page as one file.
func (s *Site) AddClinic(text []byte) error {
	if one := s.Files[OneName]; one != nil {
		inside := `<body><script type="application/json" id="clinic">` + strings.ReplaceAll(string(text), "<", `\u003c`) + "</script>"
		s.Files[OneName] = &File{Data: bytes.Replace(one.Data, []byte("<body>"), []byte(inside), 1)}
	}
	s.Files[ClinicName] = &File{Data: text}
	return s.RenewWorker()
}

// RenewWorker tells the service worker that is there of the files that are there now.
func (s *Site) RenewWorker() error {
	worker := s.Files[workerName]
	if worker == nil {
		return errors.New("a page without its service worker")
	}
	_, script, found := bytes.Cut(worker.Data, []byte("\n"))
	if !found {
		return errors.New("a service worker without the line that names its files")
	}
	return s.AddWorker(script)
}
