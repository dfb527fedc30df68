package release

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"time"
)

// nobody is the user and the group of the image, by number, since nothing but the program is in it.
const nobody = "65532:65532"

// blob is how an image refers to a part of itself.
type blob struct {
	MediaType   string            `json:"mediaType"`
	Digest      string            `json:"digest"`
	Size        int               `json:"size"`
	Platform    *platformJSON     `json:"platform,omitempty"`
	Annotations map[string]string `json:"annotations,omitempty"`
}

type platformJSON struct {
	Architecture string `json:"architecture"`
	OS           string `json:"os"`
}

const media = "application/vnd.oci.image."

// image makes an image of the Open Container Initiative, as the tar of its layout (image-spec 1.0), from nothing: the program and
// whose software is in it. It is for each of the platforms that a program for Linux was made for.
func image(programs map[Platform][]byte, notice []byte, stamp Stamp) ([]byte, error) {
	all := files{"oci-layout": []byte(`{"imageLayoutVersion":"1.0.0"}`)}
	add := func(kind string, data []byte) blob {
		sum := sha256.Sum256(data)
		name := hex.EncodeToString(sum[:])
		all["blobs/sha256/"+name] = data
		return blob{MediaType: media + kind, Digest: "sha256:" + name, Size: len(data)}
	}
	addJSON := func(kind string, v any) (blob, error) {
		text, err := json.Marshal(v)
		return add(kind, text), err
	}
	labels := map[string]string{
		"org.opencontainers.image.title": "Whorl", "org.opencontainers.image.version": stamp.Version,
		"org.opencontainers.image.revision": stamp.Commit, "org.opencontainers.image.licenses": "Apache-2.0",
		"org.opencontainers.image.created": stamp.At.UTC().Format(time.RFC3339),
	}
	var manifests []blob
	for _, p := range Platforms {
		program := programs[p]
		if p.OS != "linux" || program == nil {
			continue
		}
		layer, err := files{"whorl": program, "NOTICE": notice}.tar(stamp.At)
		if err != nil {
			return nil, err
		}
		packed, err := gzipped(layer)
		if err != nil {
			return nil, err
		}
		plain := sha256.Sum256(layer)
		config, err := addJSON("config.v1+json", map[string]any{
			"created": stamp.At.UTC().Format(time.RFC3339), "architecture": p.Arch, "os": p.OS,
			"config": map[string]any{
				"User": nobody, "Entrypoint": []string{"/whorl"}, "Cmd": []string{"serve", "-addr", ":8020"},
				"ExposedPorts": map[string]any{"8020/tcp": struct{}{}}, "Labels": labels,
			},
			"rootfs":  map[string]any{"type": "layers", "diff_ids": []string{"sha256:" + hex.EncodeToString(plain[:])}},
			"history": []any{map[string]any{"created": stamp.At.UTC().Format(time.RFC3339), "comment": "the program and NOTICE"}},
		})
		if err != nil {
			return nil, err
		}
		manifest, err := addJSON("manifest.v1+json", map[string]any{
			"schemaVersion": 2, "mediaType": media + "manifest.v1+json", "config": config,
			"layers": []blob{add("layer.v1.tar+gzip", packed)}, "annotations": labels,
		})
		if err != nil {
			return nil, err
		}
		manifest.Platform = &platformJSON{p.Arch, p.OS}
		manifests = append(manifests, manifest)
	}
	index, err := addJSON("index.v1+json", map[string]any{"schemaVersion": 2, "mediaType": media + "index.v1+json", "manifests": manifests})
	if err != nil {
		return nil, err
	}
	index.Annotations = map[string]string{"org.opencontainers.image.ref.name": stamp.Version}
	if all["index.json"], err = json.Marshal(map[string]any{"schemaVersion": 2, "mediaType": media + "index.v1+json", "manifests": []blob{index}}); err != nil {
		return nil, err
	}
	return all.tar(stamp.At)
}
