package wasm_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"whorl.example/wasm"
)

// The notices name each module that Go's linker has written into the core, Go itself, and no other; each with its licence. The linker's list
// (runtime/debug.BuildInfo) is made another way than the notices are.
func TestNoticesNameWhatIsLinked(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("left out by -short: builds the core")
	}
	page, err := core()
	if err != nil {
		t.Fatal(err)
	}
	embedded, err := wasm.BuildCore(root)
	if err != nil {
		t.Fatal(err)
	}
	text, err := wasm.Notices(root)
	if err != nil {
		t.Fatal(err)
	}
	head, licences, _ := strings.Cut(text, "\n====")
	var named []string
	for line := range strings.Lines(head) {
		if name, ok := strings.CutPrefix(line, "- "); ok {
			named = append(named, strings.TrimSpace(name))
		}
	}
	version := strings.TrimSpace(run(t, exec.Command("go", "env", "GOVERSION")))
	if len(named) == 0 || !strings.HasPrefix(named[0], version+":") {
		t.Fatalf("the first is not %s: %q", version, named)
	}
	for _, module := range [][]byte{page, embedded.Module} {
		var linked []string
		for _, dep := range regexp.MustCompile(`\ndep\t(\S+)\t(\S+)`).FindAllSubmatch(module, -1) {
			linked = append(linked, string(dep[1])+" "+string(dep[2]))
		}
		slices.Sort(linked)
		if len(linked) == 0 || !slices.Equal(named[1:], linked) {
			t.Errorf("named are %q, linked %q", named[1:], linked)
		}
	}
	// Each licence as its authors gave it: who they are, and a sentence of each kind.
	for name, want := range map[string][]string{
		version:                         {"Copyright 2009 The Go Authors", "Redistribution and use in source and binary forms"},
		"github.com/shopspring/decimal": {"Copyright (c) 2015 Spring, Inc.", "Permission is hereby granted, free of charge"},
		"rsc.io/qr":                     {"The Go Authors", "Redistribution and use in source and binary forms"},
		"Whorl":                         {"Apache License", "END OF TERMS AND CONDITIONS"},
	} {
		_, own, found := strings.Cut(licences, "=\n"+name)
		own, _, _ = strings.Cut(own, "\n====")
		for _, w := range want {
			if !found || !strings.Contains(own, w) {
				t.Errorf("of %s is not said: %s", name, w)
			}
		}
	}
	if !strings.HasPrefix(text, "Whorl\nCopyright ") || strings.Contains(text, "wasm/internal") {
		t.Errorf("the notices begin with %q, or speak of the repository", text[:60])
	}
}

// What stands in for the licence of Go where a distribution keeps it elsewhere is that licence.
func TestTheLicenceOfGoIsGos(t *testing.T) {
	t.Parallel()
	goroot := strings.TrimSpace(run(t, exec.Command("go", "env", "GOROOT")))
	want, err := os.ReadFile(filepath.Join(goroot, "LICENSE"))
	if err != nil {
		t.Skip("this Go keeps its licence elsewhere: ", err)
	}
	if got, err := os.ReadFile("LICENSE.golang"); err != nil || string(got) != string(want) {
		t.Errorf("LICENSE.golang differs from the licence of this Go (%v)", err)
	}
}
