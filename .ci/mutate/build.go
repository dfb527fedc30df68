package main

import (
	"bytes"
	"context"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

//go:embed testdata/switch.go.txt
var switchCode []byte

const switchPath = "whorl.example/internal/mutant"

// A binary is the tests of a package with all its mutants.
type binary struct {
	dir     string // for what is made
	home    string // the package's own, where its tests run
	mutants []mutant
	flags   []string
}

func (b *binary) path() string { return filepath.Join(b.dir, "tests") }

// listed is what go list tells of a package.
type listed struct {
	Dir, ImportPath, Export            string
	GoFiles, TestImports, XTestImports []string
	Module                             struct{ Dir string }
}

func list(args ...string) ([]listed, error) {
	var stderr bytes.Buffer
	cmd := exec.Command("go", append([]string{"list", "-json=Dir,ImportPath,Export,GoFiles,TestImports,XTestImports,Module"}, args...)...)
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("%w\n%s", err, stderr.Bytes())
	}
	var all []listed
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return all, nil
		} else if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
}

func build(path string) (_ *binary, err error) {
	all, err := list("-export", "-deps", path)
	if err != nil {
		return nil, err
	}
	p := all[len(all)-1]
	exports := map[string]string{}
	for _, q := range all {
		exports[q.ImportPath] = q.Export
	}
	b := &binary{home: p.Dir}
	if slices.Contains(append(p.TestImports, p.XTestImports...), "pgregory.net/rapid") {
		// The same cases each time; a failure is enough, and need not be made small.
		b.flags = []string{"-rapid.nofailfile", "-rapid.seed=1", "-rapid.shrinktime=1ns"}
	}
	if b.dir, err = os.MkdirTemp("", "mutate"); err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			os.RemoveAll(b.dir)
		}
	}()

	fset := token.NewFileSet()
	var files []*ast.File
	var sources [][]byte
	for _, name := range p.GoFiles {
		src, err := os.ReadFile(filepath.Join(p.Dir, name))
		if err != nil {
			return nil, err
		}
		f, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), src, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files, sources = append(files, f), append(sources, src)
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	conf := types.Config{Importer: importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })}
	if _, err := conf.Check(path, fset, files, info); err != nil {
		return nil, err
	}
	replace := map[string]string{}
	put := func(name string, text []byte) error {
		as := filepath.Join(b.dir, fmt.Sprint(len(replace), ".go"))
		replace[name] = as
		return os.WriteFile(as, text, 0o600)
	}
	seen := map[string]int{}
	for i, f := range files {
		name := filepath.Join(p.Dir, p.GoFiles[i])
		short, err := filepath.Rel(p.Module.Dir, name)
		if err != nil {
			return nil, err
		}
		r := &rewriter{info: info, fset: fset, src: sources[i], file: short, first: len(b.mutants), seen: seen}
		text, mutants := r.rewrite(f)
		b.mutants = append(b.mutants, mutants...)
		if err := put(name, text); err != nil {
			return nil, err
		}
	}
	if len(b.mutants) == 0 {
		return b, nil
	}
	if err := put(filepath.Join(p.Module.Dir, "internal/mutant/switch.go"), switchCode); err != nil {
		return nil, err
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(b.dir, "overlay.json"), overlay, 0o600); err != nil {
		return nil, err
	}
	out, err := exec.Command("go", "test", "-c", "-vet=off", "-overlay", filepath.Join(b.dir, "overlay.json"), "-o", b.path(), path).CombinedOutput()
	if err != nil {
		return nil, fmt.Errorf("%w\n%s", err, out)
	}
	return b, nil
}

// each does n things, so many at once.
func each(workers, n int, do func(int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range max(workers, 1) {
		wg.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

// A test that passes unbroken: what it costs in processor time, and which mutants it reaches.
type test struct {
	name    string
	cost    time.Duration
	reached []byte
}

// measure runs each test by itself. It leaves out those that are slow, and those that fail with the switches in.
func (b *binary) measure(slow time.Duration, workers int) (tests []test, leftOut int, err error) {
	cmd := exec.Command(b.path(), "-test.list", ".")
	cmd.Dir = b.home
	out, err := cmd.Output()
	if err != nil {
		if _, none := os.Stat(b.path()); os.IsNotExist(none) {
			return nil, 0, nil // no test files
		}
		return nil, 0, fmt.Errorf("the list of tests: %w", err)
	}
	var names []string
	for _, name := range strings.Fields(string(out)) {
		if !strings.HasPrefix(name, "Benchmark") {
			names = append(names, name)
		}
	}
	all := make([]test, len(names))
	failed := make([]error, len(names))
	each(workers, len(names), func(i int) {
		reached := filepath.Join(b.dir, fmt.Sprint("reached", i))
		if failed[i] = os.WriteFile(reached, make([]byte, len(b.mutants)+1), 0o600); failed[i] != nil {
			return
		}
		var cost time.Duration
		cost, failed[i] = b.run([]string{names[i]}, slow, "MUTANT_REACHED="+reached, fmt.Sprint("MUTANT_COUNT=", len(b.mutants)+1))
		all[i] = test{name: names[i], cost: cost}
		if failed[i] == nil {
			all[i].reached, failed[i] = os.ReadFile(reached)
		}
		os.Remove(reached)
	})
	for i, t := range all {
		switch {
		case failed[i] == nil:
			tests = append(tests, t)
		case errors.Is(failed[i], errSlow):
			leftOut++
		default:
			leftOut++
			fmt.Fprintf(os.Stderr, "mutate: %s fails unbroken with the switches in and is left out: %v\n", t.name, failed[i])
		}
	}
	slices.SortStableFunc(tests, func(a, b test) int { return int(a.cost - b.cost) })
	return tests, leftOut, nil
}

var errSlow = errors.New("out of processor time")

// run runs tests until one fails; the limit is of processor time, which other processes do not take away.
func (b *binary) run(names []string, limit time.Duration, env ...string) (time.Duration, error) {
	ctx, cancel := context.WithTimeout(context.Background(), 20*limit+time.Minute) // for one that waits
	defer cancel()
	seconds := int(limit.Seconds() + 1)
	args := append([]string{"-c", fmt.Sprintf(`ulimit -v 8000000; ulimit -t %d; exec "$0" "$@"`, seconds), b.path(),
		"-test.failfast", "-test.timeout=0", "-test.run=^(" + strings.Join(names, "|") + ")$"}, b.flags...)
	cmd := exec.CommandContext(ctx, "bash", args...)
	cmd.Dir = b.home
	cmd.Env = append(os.Environ(), append(env, "GOMAXPROCS=1")...)
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	cmd.WaitDelay = time.Second
	err := cmd.Run()
	if cmd.ProcessState == nil {
		return 0, err
	}
	cost := cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	if err != nil && (cost >= limit || ctx.Err() != nil) {
		return cost, errSlow
	}
	if err != nil {
		text := out.Bytes()
		return cost, fmt.Errorf("%w: %s", err, text[:min(len(text), 600)])
	}
	return cost, nil
}

// What became of a mutant.
type outcome int

const (
	killed outcome = iota
	survived
	timedOut
	notCovered
)

func (o outcome) String() string {
	return [...]string{"killed", "lived", "timed out", "not covered"}[o]
}

// try switches a mutant on and runs the tests that reach it, the quick ones first.
func (b *binary) try(id int, tests []test) outcome {
	var quick, rest []string
	var quickCost, restCost time.Duration
	for _, t := range tests {
		switch {
		case t.reached[id] == 0:
		case quickCost+t.cost < 300*time.Millisecond || len(quick) == 0:
			quick, quickCost = append(quick, t.name), quickCost+t.cost
		default:
			rest, restCost = append(rest, t.name), restCost+t.cost
		}
	}
	if len(quick) == 0 {
		return notCovered
	}
	for _, group := range []struct {
		names []string
		cost  time.Duration
	}{{quick, quickCost}, {rest, restCost}} {
		if len(group.names) == 0 {
			continue
		}
		switch _, err := b.run(group.names, 3*time.Second+8*group.cost, fmt.Sprint("MUTANT=", id)); {
		case errors.Is(err, errSlow):
			return timedOut
		case err != nil:
			return killed
		}
	}
	return survived
}
