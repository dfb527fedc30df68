package main

import (
	"archive/tar"
	"archive/zip"
	"bufio"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"debug/buildinfo"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	spdx "github.com/spdx/tools-golang/json"
	"github.com/spdx/tools-golang/spdxlib"

	"whorl.example/wasm/site/release"
	"whorl.example/wasm/site/static"
)

// made is a release of the sources at root. The quick form has a core of eight bytes and the program for this machine alone;
// WHORL_LONG=1 makes all of it.
func made(t *testing.T, root string) map[string][]byte {
	t.Helper()
	platforms := []release.Platform{{OS: runtime.GOOS, Arch: runtime.GOARCH}}
	library := map[string][]byte{"package.json": []byte(`{"name":"whorl"}`)}
	var site *static.Site
	var err error
	if os.Getenv("WHORL_LONG") == "" {
		site, err = buildAround([]byte("\x00asm\x01\x00\x00\x00"), root)
	} else {
		platforms = release.Platforms
		if library, err = libraryFiles(root); err == nil {
			site, err = Build(root)
		}
	}
	td.Require(t).CmpNoError(err)
	site.Compress(static.Quick)
	stamp := release.Stamp{Version: "1.2.3-test", Commit: "0123456789abcdef", At: time.Date(2026, 3, 4, 5, 6, 8, 0, time.UTC)}
	all, err := release.Make(release.Input{Root: root, Page: site, Library: library, Stamp: stamp, Platforms: platforms})
	td.Require(t).CmpNoError(err)
	return all
}

// A release from two folders has the same bytes; its sums are those that sha256sum makes; each file of it says whose software is in it; and
// the program makes a clinic's folder, serves and compares, with neither Go nor sources.
func TestRelease(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("left out by -short: builds the program twice")
	}
	root, err := moduleRoot()
	td.Require(t).CmpNoError(err)
	all := made(t, root)
	t.Run("from another folder", func(t *testing.T) {
		there := made(t, copiedElsewhere(t, root))
		td.Cmp(t, slices.Sorted(maps.Keys(there)), slices.Sorted(maps.Keys(all)))
		for name, data := range all {
			td.CmpTrue(t, bytes.Equal(data, there[name]), "%s has the same bytes", name)
		}
	})
	dir := t.TempDir()
	td.Require(t).CmpNoError(release.Write(dir, all))
	t.Run("sums", func(t *testing.T) {
		if _, err := exec.LookPath("sha256sum"); err != nil {
			t.Skip("no sha256sum here")
		}
		cmd := exec.Command("sha256sum", "--check", "--strict", "SHA256SUMS")
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		td.CmpNoError(t, err)
		td.Cmp(t, bytes.Count(out, []byte(": OK\n")), len(all)-1)
	})
	program := unpacked(t, all)
	t.Run("notices", func(t *testing.T) { noticesInEach(t, all, program) })
	t.Run("program", func(t *testing.T) { programAlone(t, program, all) })
	t.Run("image", func(t *testing.T) { imageHolds(t, dir, all) })
	t.Run("bill", func(t *testing.T) { billNames(t, program, all) })
}

const testName = "whorl-1.2.3-test"

// unpacked takes the program for this machine out of its archive, and gives its path.
func unpacked(t *testing.T, all map[string][]byte) string {
	t.Helper()
	name := testName + "-" + runtime.GOOS + "-" + runtime.GOARCH
	if runtime.GOOS == "windows" {
		t.Skip("the archive for Windows is another")
	}
	path := filepath.Join(t.TempDir(), "whorl")
	files := untarred(t, gunzipped(t, all[name+".tar.gz"]))
	td.Require(t).CmpNoError(os.WriteFile(path, files[name+"/whorl"], 0o755))
	return path
}

func gunzipped(t *testing.T, data []byte) []byte {
	t.Helper()
	z, err := gzip.NewReader(bytes.NewReader(data))
	td.Require(t).CmpNoError(err)
	plain, err := io.ReadAll(z)
	td.Require(t).CmpNoError(err)
	return plain
}

func untarred(t *testing.T, data []byte) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	for r := tar.NewReader(bytes.NewReader(data)); ; {
		head, err := r.Next()
		if err == io.EOF {
			return files
		}
		td.Require(t).CmpNoError(err)
		files[head.Name], err = io.ReadAll(r)
		td.Require(t).CmpNoError(err)
	}
}

// alone runs the program with no Go to be found, in an empty folder.
func alone(t *testing.T, program string, args ...string) (*exec.Cmd, string) {
	t.Helper()
	dir := t.TempDir()
	cmd := exec.Command(program, args...)
	cmd.Dir, cmd.Env = dir, []string{"PATH=" + dir, "HOME=" + dir}
	return cmd, dir
}

func noticesInEach(t *testing.T, all map[string][]byte, program string) {
	info, err := buildinfo.ReadFile(program)
	td.Require(t).CmpNoError(err)
	cmd, _ := alone(t, program, "licences")
	said, err := cmd.Output()
	td.Require(t).CmpNoError(err)
	linked := 0
	for _, d := range info.Deps {
		if strings.HasPrefix(d.Path, "whorl.example") {
			continue
		}
		linked++
		td.Cmp(t, string(said), td.Contains("\n- "+d.Path+" "+d.Version+"\n"), "what the linker names")
	}
	td.Cmp(t, linked, td.Gte(2))
	// So does the list of modules that the program needs on each platform.
	for _, p := range release.Platforms {
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}{{end}}{{end}}", "./whorl")
		list.Env = append(os.Environ(), "GOWORK=off", "CGO_ENABLED=0", "GOOS="+p.OS, "GOARCH="+p.Arch)
		out, err := list.Output()
		td.Require(t).CmpNoError(err)
		for line := range strings.Lines(string(out)) {
			if line != "\n" && !strings.HasPrefix(line, "whorl.example") {
				td.Cmp(t, string(said), td.Contains("\n- "+line), "of the list of modules, on %s", p.OS)
			}
		}
	}
	own := td.All(td.Contains("Apache License"), td.Contains("Copyright 2009 The Go Authors"), td.Contains("Spring, Inc."))
	td.Cmp(t, string(said), td.All(own, td.Contains("Evan Wallace"), td.Contains("the Brotli Authors")))
	td.Cmp(t, string(all[testName+".html"]), own)
	z, err := zip.NewReader(bytes.NewReader(all[testName+"-page.zip"]), int64(len(all[testName+"-page.zip"])))
	td.Require(t).CmpNoError(err)
	found := 0
	for _, f := range z.File {
		if strings.HasPrefix(f.Name, "notices-") && strings.HasSuffix(f.Name, ".txt") {
			found++
			in, err := f.Open()
			td.Require(t).CmpNoError(err)
			text, err := io.ReadAll(in)
			td.CmpNoError(t, err)
			td.Cmp(t, string(text), own)
		}
		td.CmpTrue(t, f.Modified.Equal(time.Date(2026, 3, 4, 5, 6, 8, 0, time.UTC)), f.Name)
	}
	td.Cmp(t, found, 1)
	if os.Getenv("WHORL_LONG") != "" {
		td.Cmp(t, string(untarred(t, gunzipped(t, all[testName+".tgz"]))["package/NOTICE"]), own)
	}
}

func programAlone(t *testing.T, program string, all map[string][]byte) {
	clinic, err := os.ReadFile("../../examples/clinic/pack.json")
	td.Require(t).CmpNoError(err)
	path := laid(t, "mine.json", clinic)
	cmd, dir := alone(t, program, "folder", "-clinic", path, "out")
	out, err := cmd.CombinedOutput()
	td.Require(t).CmpNoError(err, "%s", out)
	read := func(name string) string {
		text, err := os.ReadFile(filepath.Join(dir, "out", name))
		td.CmpNoError(t, err)
		return string(text)
	}
	td.Cmp(t, read(static.ClinicName), string(clinic))
	td.Cmp(t, read("sw.js"), td.Contains(`"clinic.json"`))
	td.Cmp(t, read(static.OneName), td.Contains(`<script type="application/json" id="clinic">{`))
	td.Cmp(t, read("_headers"), td.Contains("\n/clinic.json\n  Content-Type: application/json\n  Cache-Control: no-cache\n"))
	td.Cmp(t, read("index.html"), td.Contains("app-"))

	broken := laid(t, "broken.json", bytes.Replace(clinic, []byte(`"urgency": "now"`), []byte(`"urgency": "never"`), 1))
	for args, want := range map[[2]string]string{{"clinic", broken}: "broken.json:19: ", {"frobnicate", ""}: "frobnicate", {"folder"}: "argument"} {
		cmd, _ := alone(t, program, slices.DeleteFunc(args[:], func(a string) bool { return a == "" })...)
		out, _ := cmd.CombinedOutput()
		td.Cmp(t, cmd.ProcessState.ExitCode(), 2)
		td.Cmp(t, string(out), td.Contains(want))
	}
	cmd, _ = alone(t, program, "clinic", path)
	td.CmpNoError(t, cmd.Run())

	record, err := filepath.Abs("../../examples/assess/testdata/record.json")
	td.Require(t).CmpNoError(err)
	cmd, _ = alone(t, program, "assess", "-report", record)
	out, err = cmd.Output()
	td.CmpNoError(t, err)
	td.Cmp(t, string(out), td.Contains("Juniper"))
	cmd, _ = alone(t, program, "version")
	out, err = cmd.Output()
	td.CmpNoError(t, err)
	td.Cmp(t, string(out), "1.2.3-test\n")

	url := startWhorl(t, program)
	answer, err := http.Get(url)
	td.Require(t).CmpNoError(err)
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	td.CmpNoError(t, err)
	td.Cmp(t, string(body), td.Contains("<title>Whorl</title>"))
	td.Cmp(t, answer.Header.Get("Content-Security-Policy"), td.Contains("frame-ancestors 'none'"))
}

// startWhorl serves by the program, with flags, until the test ends, and gives the address.
func startWhorl(t *testing.T, program string, flags ...string) string {
	t.Helper()
	cmd, _ := alone(t, program, append([]string{"serve", "-addr", "127.0.0.1:0"}, flags...)...)
	said, err := cmd.StdoutPipe()
	td.Require(t).CmpNoError(err)
	td.Require(t).CmpNoError(cmd.Start())
	t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
	})
	line, err := bufio.NewReader(said).ReadString('\n')
	td.Require(t).CmpNoError(err)
	return strings.TrimSpace(strings.TrimPrefix(line, "Whorl is at "))
}

// imageHolds reads the image by its own references, and has skopeo read it too, where that is installed.
func imageHolds(t *testing.T, dir string, all map[string][]byte) {
	if runtime.GOOS != "linux" {
		t.Skip("the quick form has an image on Linux only")
	}
	files := untarred(t, all[testName+"-image.tar"])
	td.Cmp(t, string(files["oci-layout"]), `{"imageLayoutVersion":"1.0.0"}`)
	for name, data := range files {
		if sum, is := strings.CutPrefix(name, "blobs/sha256/"); is {
			td.Cmp(t, fmt.Sprintf("%x", sha256.Sum256(data)), sum)
		}
	}
	if _, err := exec.LookPath("skopeo"); err != nil {
		t.Skip("no skopeo here (Debian: apt-get install skopeo): the image was read by ourselves alone")
	}
	to := filepath.Join(t.TempDir(), "image")
	archive := "oci-archive:" + filepath.Join(dir, testName+"-image.tar")
	out, err := exec.Command("skopeo", "--insecure-policy", "copy", "--override-arch", runtime.GOARCH, archive, "dir:"+to).CombinedOutput()
	td.Require(t).CmpNoError(err, "%s", out)
	out, err = exec.Command("skopeo", "inspect", "--config", "--override-arch", runtime.GOARCH, archive).CombinedOutput()
	td.Require(t).CmpNoError(err, "%s", out)
	var config struct {
		Architecture string
		Config       struct {
			User       string
			Entrypoint []string
		}
	}
	td.Require(t).CmpNoError(json.Unmarshal(out, &config), "%s", out)
	td.Cmp(t, config.Architecture, runtime.GOARCH)
	td.Cmp(t, config.Config.User, "65532:65532")
	td.Cmp(t, config.Config.Entrypoint, []string{"/whorl"})
	var manifest struct{ Layers []struct{ Digest string } }
	text, err := os.ReadFile(filepath.Join(to, "manifest.json"))
	td.Require(t).CmpNoError(err)
	td.Require(t).CmpNoError(json.Unmarshal(text, &manifest))
	td.Require(t).Cmp(len(manifest.Layers), 1)
	layer, err := os.ReadFile(filepath.Join(to, strings.TrimPrefix(manifest.Layers[0].Digest, "sha256:")))
	td.Require(t).CmpNoError(err)
	inside := untarred(t, gunzipped(t, layer))
	td.Cmp(t, slices.Sorted(maps.Keys(inside)), []string{"NOTICE", "whorl"})
	td.Cmp(t, string(inside["NOTICE"]), td.Contains("Apache License"))
	if os.Getuid() != 0 {
		return
	}
	// As nobody, with nothing else in sight: what a container is.
	rootfs := t.TempDir()
	td.Require(t).CmpNoError(os.WriteFile(filepath.Join(rootfs, "whorl"), inside["whorl"], 0o755))
	td.Require(t).CmpNoError(os.Chmod(rootfs, 0o755))
	out, err = exec.Command("chroot", "--userspec=65532:65532", rootfs, "/whorl", "version").CombinedOutput()
	td.CmpNoError(t, err)
	td.Cmp(t, string(out), "1.2.3-test\n")
}

func billNames(t *testing.T, program string, all map[string][]byte) {
	// The reader of the SPDX project takes it: each part of each relation is there, and it describes one thing.
	document, err := spdx.Read(bytes.NewReader(all[testName+".spdx.json"]))
	td.Require(t).CmpNoError(err)
	td.CmpNoError(t, spdxlib.ValidateDocument(document))
	described, err := spdxlib.GetDescribedPackageIDs(document)
	td.CmpNoError(t, err)
	td.Cmp(t, len(described), 1)
	td.Cmp(t, len(document.Files), len(all)-2)
	for _, p := range document.Packages {
		td.Cmp(t, p.PackageLicenseDeclared, td.Any("Apache-2.0", "MIT", "BSD-3-Clause"), p.PackageName)
		td.Cmp(t, p.PackageCopyrightText, td.Contains("Copyright "), p.PackageName)
	}
	info, err := buildinfo.ReadFile(program)
	td.Require(t).CmpNoError(err)
	var bill struct {
		SPDXVersion string `json:"spdxVersion"`
		Packages    []struct{ Name, VersionInfo, LicenseDeclared string }
		Files       []struct {
			FileName  string
			Checksums []struct{ Algorithm, ChecksumValue string }
		}
	}
	td.Require(t).CmpNoError(json.Unmarshal(all[testName+".spdx.json"], &bill))
	td.Cmp(t, bill.SPDXVersion, "SPDX-2.3")
	licences := map[string]string{}
	for _, p := range bill.Packages {
		licences[p.Name+" "+p.VersionInfo] = p.LicenseDeclared
	}
	for _, d := range info.Deps {
		if !strings.HasPrefix(d.Path, "whorl.example") {
			td.Cmp(t, licences[d.Path+" "+d.Version], td.Any("MIT", "BSD-3-Clause"), "%s", d.Path)
		}
	}
	td.Cmp(t, licences["std "+strings.TrimPrefix(info.GoVersion, "go")], "BSD-3-Clause")
	listed := map[string]string{}
	for _, f := range bill.Files {
		listed[strings.TrimPrefix(f.FileName, "./")] = f.Checksums[1].ChecksumValue
	}
	for name, data := range all {
		if name != "SHA256SUMS" && !strings.HasSuffix(name, ".spdx.json") {
			td.Cmp(t, listed[name], fmt.Sprintf("%x", sha256.Sum256(data)), "%s", name)
		}
	}
	td.Cmp(t, len(listed), len(all)-2)
}
