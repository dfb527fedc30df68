// Package release makes all that is handed out of one commit: the page as a folder and as one file, the package for JavaScript,
// the program whorl for each platform, an image for containers, the list of what is inside, and the sums. The same commit and the
// same Go make the same bytes, wherever the repository lies.
package release

import (
	"bytes"
	"crypto/sha256"
	"debug/buildinfo"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"whorl.example/wasm"
	core "whorl.example/wasm/api"
	"whorl.example/wasm/site/static"
)

// Platform is what a program is made for, by Go's names.
type Platform struct{ OS, Arch string }

// Platforms are those that a release has a program for.
var Platforms = []Platform{
	{"linux", "amd64"}, {"linux", "arm64"}, {"darwin", "amd64"}, {"darwin", "arm64"}, {"windows", "amd64"}, {"windows", "arm64"},
}

// Stamp is what a release says of itself. At is the time of the commit, and of each file in an archive.
type Stamp struct {
	Version, Commit string
	At              time.Time
}

// StampOf reads the commit of a checkout. Without the tag of the version on it, the version has the commit's beginning behind it. SOURCE_DATE_EPOCH
// is the time where there is no repository, and goes before the commit's.
func StampOf(root string) (Stamp, error) {
	s := Stamp{Version: core.Version, Commit: "unknown"}
	git := func(args ...string) (string, error) {
		out, err := exec.Command("git", append([]string{"-C", root}, args...)...).Output()
		return strings.TrimSpace(string(out)), err
	}
	seconds := os.Getenv("SOURCE_DATE_EPOCH")
	if line, err := git("log", "-1", "--format=%H %ct"); err == nil {
		commit, at, _ := strings.Cut(line, " ")
		s.Commit = commit
		if seconds == "" {
			seconds = at
		}
		tags, err := git("tag", "--points-at", "HEAD")
		if err != nil {
			return s, err
		}
		if !slices.Contains(strings.Fields(tags), "v"+core.Version) {
			s.Version += "-" + commit[:12]
		}
		changed, err := git("status", "--porcelain")
		if err != nil {
			return s, err
		}
		if changed != "" {
			s.Version += "-changed"
		}
	}
	n, err := strconv.ParseInt(seconds, 10, 64)
	if err != nil {
		return s, fmt.Errorf("neither a commit nor SOURCE_DATE_EPOCH gives the time of the release: %w", err)
	}
	s.At = time.Unix(n, 0).UTC()
	return s, nil
}

// Input is what a release is made of. The page has its compressed forms; the library is the package for JavaScript, by the names of its files.
type Input struct {
	Root      string
	Page      *static.Site
	Library   map[string][]byte
	Stamp     Stamp
	Platforms []Platform
}

// Make gives the files of a release by their names.
func Make(in Input) (map[string][]byte, error) {
	name := "whorl-" + in.Stamp.Version
	page, err := files(in.Page.Folder()).zip(in.Stamp.At)
	if err != nil {
		return nil, err
	}
	library := files{}
	for file, data := range in.Library {
		library["package/"+file] = data
	}
	packed, err := library.tarGzip(in.Stamp.At)
	if err != nil {
		return nil, err
	}
	all := map[string][]byte{name + "-page.zip": page, name + ".html": in.Page.Files[static.OneName].Data, name + ".tgz": packed}
	inside, err := partsInside(in.Root)
	if err != nil {
		return nil, err
	}
	notice, err := wasm.NoticesOf(in.Root, inside)
	if err != nil {
		return nil, err
	}
	programs := map[Platform][]byte{}
	for _, p := range in.Platforms {
		program, err := build(in, p, files{"page.zip": page, "NOTICE": []byte(notice)})
		if err != nil {
			return nil, fmt.Errorf("%s/%s: %w", p.OS, p.Arch, err)
		}
		if err := named(program, inside); err != nil {
			return nil, err
		}
		programs[p] = program
		file := name + "-" + p.OS + "-" + p.Arch
		folder := file + "/"
		if p.OS == "windows" {
			all[file+".zip"], err = files{folder + "whorl.exe": program, folder + "NOTICE": []byte(notice)}.zip(in.Stamp.At)
		} else {
			all[file+".tar.gz"], err = files{folder + "whorl": program, folder + "NOTICE": []byte(notice)}.tarGzip(in.Stamp.At)
		}
		if err != nil {
			return nil, err
		}
	}
	if all[name+"-image.tar"], err = image(programs, []byte(notice), in.Stamp); err != nil {
		return nil, err
	}
	if all[name+".spdx.json"], err = bill(all, inside, in.Stamp); err != nil {
		return nil, err
	}
	all["SHA256SUMS"] = sums(all)
	return all, nil
}

// sums are in the form that sha256sum -c reads.
func sums(all map[string][]byte) []byte {
	var out bytes.Buffer
	for _, name := range slices.Sorted(maps.Keys(all)) {
		fmt.Fprintf(&out, "%x  %s\n", sha256.Sum256(all[name]), name)
	}
	return out.Bytes()
}

// Write writes a release into a folder.
func Write(dir string, all map[string][]byte) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for name, data := range all {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// program is the package of the program, in the module of the page.
const program = "./whorl"

// command is the go command for the program, in its module alone: a workspace or a setting of the environment's would make it another.
func command(root string, p Platform, args ...string) *exec.Cmd {
	cmd := exec.Command("go", args...)
	cmd.Dir = filepath.Join(root, "wasm", "site")
	cmd.Env = append(os.Environ(), "GOWORK=off", "GOFLAGS=-mod=readonly", "GOEXPERIMENT=", "CGO_ENABLED=0",
		"GOOS="+p.OS, "GOARCH="+p.Arch, "GOAMD64=v1", "GOARM64=v8.0")
	return cmd
}

// partsInside is whose software is in the program and in the page within it.
func partsInside(root string) ([]wasm.Part, error) {
	besides := []string{"github.com/evanw/esbuild"}
	for _, p := range Platforms {
		cmd := command(root, p, "list", "-deps", "-f", "{{with .Module}}{{.Path}}{{end}}", program)
		cmd.Stderr = os.Stderr
		out, err := cmd.Output()
		if err != nil {
			return nil, fmt.Errorf("go list %s: %w", program, err)
		}
		for _, module := range strings.Fields(string(out)) {
			if !ours(module) && !slices.Contains(besides, module) {
				besides = append(besides, module)
			}
		}
	}
	return wasm.Parts(root, besides...)
}

func ours(module string) bool {
	return module == "whorl.example" || strings.HasPrefix(module, "whorl.example/")
}

// build makes the program for one platform, with files put beside its sources only for the compiler.
func build(in Input, p Platform, embedded files) ([]byte, error) {
	dir, err := os.MkdirTemp("", "whorl-release-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	root, err := filepath.Abs(in.Root)
	if err != nil {
		return nil, err
	}
	replace := map[string]string{}
	for name, data := range embedded {
		at := filepath.Join(dir, name)
		if err := os.WriteFile(at, data, 0o644); err != nil {
			return nil, err
		}
		replace[filepath.Join(root, "wasm", "site", "whorl", name)] = at
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return nil, err
	}
	list, out := filepath.Join(dir, "overlay.json"), filepath.Join(dir, "program")
	if err := os.WriteFile(list, overlay, 0o644); err != nil {
		return nil, err
	}
	cmd := command(root, p, "build", "-o", out, "-tags=released", "-overlay="+list, "-trimpath", "-buildvcs=false",
		"-ldflags=-s -w -buildid= -X main.version="+in.Stamp.Version, program)
	if text, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("go build %s: %w\n%s", program, err, text)
	}
	return os.ReadFile(out)
}

// named holds that whatever the linker has written into the program is named in what goes with it.
func named(program []byte, inside []wasm.Part) error {
	info, err := buildinfo.Read(bytes.NewReader(program))
	if err != nil {
		return err
	}
	for _, d := range info.Deps {
		if !ours(d.Path) && !slices.ContainsFunc(inside, func(p wasm.Part) bool { return p.Path == d.Path && p.Version == d.Version }) {
			return fmt.Errorf("%s %s is in the program, and its licence is not", d.Path, d.Version)
		}
	}
	return nil
}
