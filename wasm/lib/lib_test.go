package lib_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm"
	"whorl.example/wasm/checks"
	"whorl.example/wasm/lib"
)

// typescript is the compiler that the types are checked with.
const typescript = "typescript@5.9.3"

// built is the package, made once.
var built = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "whorl-lib-")
	if err != nil {
		return "", err
	}
	_, err = lib.Write("../..", dir)
	return dir, err
})

func TestMain(m *testing.M) {
	code := m.Run()
	if dir, _ := built(); dir != "" && !testing.Short() {
		os.RemoveAll(dir)
	}
	os.Exit(code)
}

func command(t *testing.T, dir, name string, args ...string) (string, error) {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	return string(out), err
}

// project is an empty project into which the packed package was installed.
func project(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("left out by -short: builds the core")
	}
	checks.Node(t)
	if _, err := exec.LookPath("npm"); err != nil {
		t.Skip("npm is not here; install it to run this")
	}
	from, err := built()
	td.Require(t).CmpNoError(err)
	dir := t.TempDir()
	out, err := command(t, from, "npm", "pack", "--offline", "--pack-destination", dir)
	td.Require(t).CmpNoError(err, out)
	packed, err := filepath.Glob(filepath.Join(dir, "whorl-*.tgz"))
	td.Require(t).CmpNoError(err)
	td.Require(t).Cmp(packed, td.Len(1))
	td.Require(t).CmpNoError(os.WriteFile(filepath.Join(dir, "package.json"), []byte(`{"private":true}`), 0o600))
	out, err = command(t, dir, "npm", "install", "--offline", "--no-audit", "--no-fund", packed[0])
	td.Require(t).CmpNoError(err, out)
	return dir
}

func node(t *testing.T, dir, script string) string {
	t.Helper()
	file := filepath.Join(dir, "run.mjs")
	td.Require(t).CmpNoError(os.WriteFile(file, []byte(script), 0o600))
	out, err := command(t, dir, "node", file)
	td.Require(t).CmpNoError(err, out)
	return out
}

func TestThePackageUnderNode(t *testing.T) {
	t.Parallel()
	dir := project(t)
	t.Run("the example of the README", func(t *testing.T) {
		text, err := os.ReadFile("README.md")
		td.Require(t).CmpNoError(err)
		_, example, _ := strings.Cut(string(text), "```js\n")
		example, _, _ = strings.Cut(example, "```")
		td.Cmp(t, node(t, dir, example), "heart-rate higher on 6 exams\nnot checked: true\nno-value /finding\n")
	})
	t.Run("a core that died is replaced; one that is none is said", func(t *testing.T) {
		td.Cmp(t, node(t, dir, `
import { load, Unavailable } from 'whorl';
const whorl = await load();
console.log((await whorl.call('version')).kind);
const core = await whorl.start();
core.alive = false;                                    // as when the program ended
console.log((await whorl.call('version')).kind, (await whorl.start()) !== core);
(await whorl.start()).call = () => { throw new Error('Go program has already exited'); };
console.log((await whorl.call('version')).kind);
(await whorl.start()).call = () => undefined;          // as when it died within the call
console.log((await whorl.call('version')).kind);
const all = await Promise.all([load(), load(), load()]); // several at once do not mix
console.log((await Promise.all(all.map(w => w.call('version')))).length);
for (const source of ['./none.wasm', new Uint8Array(8), new Response('gone', { status: 404 })]) {
  try { await load(source); console.log('loaded'); } catch (e) { console.log(e instanceof Unavailable); }
}
process.exit(0);
`), "whorl-barn\nwhorl-barn true\nwhorl-barn\nwhorl-barn\n3\ntrue\ntrue\ntrue\n")
	})
	t.Run("streamed, and not streamed where the type is another", func(t *testing.T) {
		td.Cmp(t, node(t, dir, `
import { createServer } from 'node:http';
import { readFileSync } from 'node:fs';
import { load } from 'whorl';
const code = readFileSync('node_modules/whorl/whorl.wasm');
const streaming = WebAssembly.compileStreaming;
let streamed = 0;
WebAssembly.compileStreaming = r => { streamed++; return streaming(r); };
const server = createServer((q, r) => {
  r.setHeader('Content-Type', q.url === '/right' ? 'application/wasm' : 'text/plain');
  r.end(code);
}).listen(0, '127.0.0.1', async () => {
  for (const path of ['/right', '/other']) {
    const whorl = await load('http://127.0.0.1:' + server.address().port + path);
    console.log((await whorl.call('version')).format, streamed);
  }
  process.exit(0);
});
`), "1 1\n1 1\n")
	})
}

const typed = `import { load, Refused, type Exam, type Finding, type SignID } from 'whorl';
const sign: SignID = 'heart-rate';
const finding: Finding = { sign, site: 'jaw', count: { events: 9, seconds: 15, start: 'on-beat' } };
const exam: Exam = { id: 'e', horse: 'h', at: '2026-05-03T07:30:00+02:00', depth: 'full', purpose: 'routine',
  state: { condition: 'rest' }, status: 'finished', findings: [finding] };
const whorl = await load();
const told = await whorl.call('compare', { horse: { id: 'h', name: 'Juniper', type: 'horse' }, exam, lang: 'en' });
for (const s of told.comparison.signs ?? []) {
  const usual: [number, number] | undefined = s.own && [s.own.low, s.own.high];
  if (s.statement === 'higher') console.log(s.sign, usual, s.basis.exams);
}
const text: string = (await whorl.call('report', { horse: { id: 'h', name: 'J', type: 'pony' }, exam })).text;
await whorl.call('version');
const horse = { id: 'h', name: 'Juniper', type: 'horse' } as const;
await whorl.call('check', { horse });
await whorl.call('check');
const how = (f: Finding): number | string => f.count ? f.count.events : f.absent ?? f.sign;
const why = await whorl.call('explain', { horse, exam });
const pulse: readonly string[] | undefined = told.said['heart-rate'] ?? told.said['heart-rate/jaw'];
console.log(how(finding), why.exam.length, pulse, (await whorl.call('fhir', { fragment: 'x' })).text, (await whorl.call('open', { fragment: 'x' })).aloud.length);
const none: Finding = { sign, absent: 'unsure' };
console.log(none);
try { await whorl.call('read', { file: text }); } catch (e) { if (e instanceof Refused) console.log(e.faults[0]?.path); }
`

// What is right compiles under --strict, and each mistake alone does not.
func TestTheTypes(t *testing.T) {
	t.Parallel()
	dir := project(t)
	tsc := filepath.Join(checks.NPM(t, typescript), "typescript", "bin", "tsc")
	mistakes := []struct{ from, to, want string }{
		{"'heart-rate'", "'hart-rate'", "hart-rate"},
		{"site: 'jaw'", "site: 'jaws'", "jaws"},
		{"start: 'on-beat'", "start: 'on-beet'", "on-beet"},
		{"count: { events: 9", "count: { event: 9", "event"},
		{"type: 'pony'", "type: 'zebra'", "zebra"},
		{"call('compare', {", "call('diagnose', {", "diagnose"},
		{"lang: 'en'", "lang: 'tlh'", "tlh"},
		{"s.statement === 'higher'", "s.statement === 'well'", "no overlap"},
		{", exam, lang", ", lang", "exam"},
		{"{ file: text }", "", "arguments"},
		{"{ sign, absent: 'unsure' }", "{ sign }", "missing"},
		{"absent: 'unsure' }", "absent: 'unsure', taps: { atMs: [0, 900] } }", "taps"},
		{"'fhir', { fragment: 'x' }", "'fhir', {}", "not assignable"},
	}
	// One run of the compiler for all, since starting it is what takes the time.
	args := []string{tsc, "--strict", "--noEmit", "--pretty", "false", "--module", "nodenext", "--target", "es2022", "--lib", "es2022,dom", "right.mts"}
	td.Require(t).CmpNoError(os.WriteFile(filepath.Join(dir, "right.mts"), []byte(typed), 0o600))
	for i, m := range mistakes {
		td.Require(t).Cmp(typed, td.Contains(m.from))
		name := fmt.Sprintf("mistake-%d.mts", i)
		td.Require(t).CmpNoError(os.WriteFile(filepath.Join(dir, name), []byte(strings.Replace(typed, m.from, m.to, 1)), 0o600))
		args = append(args, name)
	}
	out, err := command(t, dir, "node", args...)
	td.CmpError(t, err)
	td.Cmp(t, out, td.Not(td.Contains("right.mts")), "what is right compiles")
	for i, m := range mistakes {
		_, said, found := strings.Cut(out, fmt.Sprintf("mistake-%d.mts(", i))
		td.CmpTrue(t, found, m.to)
		td.Cmp(t, said, td.Contains(m.want), m.to)
	}
}

// The fifteen lines of the README compile under --strict, and do what they say.
func TestTheLinesOfTheReadme(t *testing.T) {
	dir := project(t)
	tsc := filepath.Join(checks.NPM(t, typescript), "typescript", "bin", "tsc")
	text, err := os.ReadFile("../../README.md")
	td.Require(t).CmpNoError(err)
	_, lines, found := strings.Cut(string(text), "```ts\n")
	lines, _, _ = strings.Cut(lines, "```")
	td.Require(t).True(found)
	td.Cmp(t, strings.Count(lines, "\n"), td.Lte(16))
	td.Require(t).CmpNoError(os.WriteFile(filepath.Join(dir, "readme.mts"), []byte(lines), 0o600))
	out, err := command(t, dir, "node", tsc, "--strict", "--pretty", "false", "--module", "nodenext", "--target", "es2022", "--lib", "es2022,dom", "readme.mts")
	td.Require(t).CmpNoError(err, out)
	out, err = command(t, dir, "node", "readme.mjs")
	td.Require(t).CmpNoError(err, out)
	td.Cmp(t, out, td.Re(`^heart-rate higher rests on 6 exams\n\d+ signs were not checked\n$`))
}

// What is installed says whose software is in it.
func TestTheNoticesAreInThePackage(t *testing.T) {
	t.Parallel()
	want, err := wasm.Notices("../..")
	td.Require(t).CmpNoError(err)
	got, err := os.ReadFile(filepath.Join(project(t), "node_modules", "whorl", "NOTICE"))
	td.Require(t).CmpNoError(err)
	td.Cmp(t, string(got), want)
}

// Every operation of the core is in the types, and none that the core does not have. The page of operations is written from the core.
func TestEveryOperationIsInTheTypes(t *testing.T) {
	t.Parallel()
	page, err := os.ReadFile("../api/OPERATIONS.md")
	td.Require(t).CmpNoError(err)
	var core, typed []string
	for _, m := range regexp.MustCompile("(?m)^\\| `(\\w+)` \\|").FindAllStringSubmatch(string(page), -1) {
		core = append(core, m[1])
	}
	for _, m := range regexp.MustCompile(`(?m)^  (\w+): \{ request: `).FindAllStringSubmatch(lib.Types(), -1) {
		typed = append(typed, m[1])
	}
	td.Cmp(t, core, td.Len(td.Gt(20)))
	for _, op := range core {
		if !slices.Contains(typed, op) {
			t.Errorf("%s is an operation of the core: write its request and its answer into operations, types.go", op)
		}
	}
	for _, op := range typed {
		if !slices.Contains(core, op) {
			t.Errorf("%s is in types.go and not in api/OPERATIONS.md: a new one gets there by go test ./wasm/api -run OperationsPage -update", op)
		}
	}
}

// Two types of one name would be one in TypeScript.
func TestNoNameIsDeclaredTwice(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^(?:export )?(?:interface|type|class) (\w+)`).FindAllStringSubmatch(lib.Types(), -1) {
		td.CmpFalse(t, seen[m[1]], m[1])
		seen[m[1]] = true
	}
}

// A bundler for browsers finds nothing of node's in the loader.
func TestTheLoaderImportsNothingOfNode(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("whorl.js")
	td.Require(t).CmpNoError(err)
	for _, m := range regexp.MustCompile(`(?:import|require)\s*\(?\s*['"]([^'"]+)`).FindAllStringSubmatch(string(text), -1) {
		td.Cmp(t, m[1], td.HasPrefix("./"))
	}
}
