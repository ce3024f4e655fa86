package main

import (
	"bytes"
	"context"
	"image/png"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"musterstone/cmd/musterstone/internal/demo"
	"musterstone/cmd/musterstone/internal/desk"
	"musterstone/cmd/musterstone/internal/job"
)

// pictures is where the pictures of the README stand.
const pictures = "../../testdata/pictures"

// The size of the picture of the desk, in pixels.
const deskWide, deskHigh = 1120, 900

// TestPictures makes the drawings of the README from the invented survey, and compares them with those that stand in the tree. UPDATE=1 writes them.
func TestPictures(t *testing.T) {
	dir, err := filepath.Abs(pictures)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := demo.Lay("alder"); err != nil {
		t.Fatal(err)
	}
	command(t, "read", "--survey", "alder", "--drawings", "drawings")
	command(t, "assess", "--survey", "alder", "--diagrams", "diagrams", "alder/truth.csv")
	report := command(t, "unmarked", "--survey", "alder", "--as", "html")
	file := func(name string) []byte {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	for name, got := range map[string][]byte{
		"stone.svg":       file("drawings/stone-OM-08.svg"),
		"years.svg":       file("drawings/stone-OM-08-time.svg"),
		"reliability.svg": file("diagrams/reliability.svg"),
		"plan.svg":        []byte(regexp.MustCompile(`(?s)<svg[^>]*class="plan".*?</svg>`).FindString(report) + "\n"),
	} {
		if !bytes.Contains(got, []byte(`xmlns="http://www.w3.org/2000/svg"`)) {
			t.Errorf("%s is no picture of its own: %.200s", name, got)
		}
		path := filepath.Join(dir, name)
		if os.Getenv("UPDATE") != "" {
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if !bytes.Equal(file(path), got) {
			t.Errorf("%s is not what the invented survey gives; UPDATE=1 makes it again", path)
		}
	}
}

// TestPictureOfDesk looks at the picture of the desk; with UPDATE=1 a browser takes it again.
func TestPictureOfDesk(t *testing.T) {
	path := filepath.Join(pictures, "desk.png")
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(path, takeDesk(t), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil || c.Width != deskWide || c.Height != deskHigh {
		t.Errorf("%s: %d by %d pixels (%v), want %d by %d", path, c.Width, c.Height, err, deskWide, deskHigh)
	}
	if len(data) > 300<<10 {
		t.Errorf("%s has %d KB, more than a README should load", path, len(data)>>10)
	}
}

// takeDesk takes a picture of a stone's page on the desk.
func takeDesk(t *testing.T) []byte {
	t.Helper()
	browser := outside(t, "chromium")
	dir := filepath.Join(t.TempDir(), "alder")
	if err := demo.Lay(dir); err != nil {
		t.Fatal(err)
	}
	j, err := job.Open(dir, job.Options{Program: version})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(context.Background(), 90*time.Second)
	d, err := desk.New(ctx, j, desk.Options{Program: version, Hosts: desk.Hosts(l.Addr())})
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	served := make(chan error)
	go func() { served <- d.Serve(ctx, l) }()
	defer func() {
		stop()
		if err := <-served; err != nil && err != http.ErrServerClosed {
			t.Error(err)
		}
	}()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(browser), chromedp.NoSandbox, chromedp.WindowSize(deskWide, deskHigh),
		chromedp.Flag("force-color-profile", "srgb"), chromedp.Flag("hide-scrollbars", true))
	allocator, end := chromedp.NewExecAllocator(ctx, options...)
	defer end()
	tab, endTab := chromedp.NewContext(allocator)
	defer endTab()
	var shot []byte
	var text string
	if err := chromedp.Run(tab, chromedp.EmulateViewport(deskWide, deskHigh), chromedp.Navigate("http://"+l.Addr().String()+"/stone?id=OM-07"),
		chromedp.SendKeys("#name", "Ann Novak\r"), chromedp.WaitVisible("section.men"), chromedp.Text("main", &text), chromedp.CaptureScreenshot(&shot)); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(text, "Pederson") {
		t.Fatalf("the page does not show the stone's candidate: %s", text)
	}
	return shot
}

// TestReadmePictures: the README shows each picture that is made, and no other.
func TestReadmePictures(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string]bool{}
	for _, m := range regexp.MustCompile(`!\[([^\]]*)\]\(([^)]*)\)`).FindAllStringSubmatch(string(text), -1) {
		if len(strings.Fields(m[1])) < 4 {
			t.Errorf("the picture %s is not described in words", m[2])
		}
		shown[m[2]] = true
	}
	files, err := os.ReadDir(pictures)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if path := "testdata/pictures/" + f.Name(); !shown[path] {
			t.Errorf("the README does not show %s", path)
		} else {
			delete(shown, path)
		}
	}
	for path := range shown {
		t.Errorf("the README shows %s, which nobody makes", path)
	}
}
