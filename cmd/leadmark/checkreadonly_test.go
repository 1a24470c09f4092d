//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// nobody is the user and the group without rights, by Linux's convention.
const nobody = 65534

// readOnlyShoot names the folder of the shoot to the test's child.
const readOnlyShoot = "LEADMARK_READ_ONLY_SHOOT"

// A folder that may not be written gives its sidecars, and the learned subject, up with the reason,
// and is left as it was. Root may write everywhere, so that as root the test does its work in a
// child process without rights.
func TestCheckReadOnlyFolder(t *testing.T) {
	if dir := os.Getenv(readOnlyShoot); dir != "" {
		checkReadOnly(t, dir)
		return
	}
	dir := plainShoot(t, ellipse{200, 60, dark}, ellipse{210, 60, dark}, ellipse{220, 60, dark},
		ellipse{230, 60, dark}, ellipse{240, 60, dark})
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o777)
	if os.Geteuid() != 0 {
		checkReadOnly(t, dir)
		return
	}
	asNobody(t, dir)
}

// checkReadOnly asks for what must be written into a folder that is not to be written.
func checkReadOnly(t *testing.T, dir string) {
	if err := os.WriteFile(filepath.Join(dir, "probe"), nil, 0o666); err == nil {
		t.Fatal("the folder can be written: nothing is tested")
	}
	before := digestOf(t, dir)
	for _, flag := range []string{"--xmp", "--learn"} {
		var stdout, stderr bytes.Buffer
		got := status([]string{"check", dir, "--lag-ms", "52", "--spread-ms", "0.5", "--out",
			filepath.Join(t.TempDir(), "out"), flag}, &stdout, &stderr)
		if got != 2 || !strings.Contains(strings.Join(strings.Fields(stderr.String()), " "), "mend the permissions") {
			t.Errorf("%s: exit status %d\n%s", flag, got, stderr.String())
		}
	}
	if made, _ := filepath.Glob(filepath.Join(dir, "*.xmp")); len(made) > 0 || digestOf(t, dir) != before {
		t.Errorf("the folder was changed: %v", made)
	}
}

// asNobody runs this test again in a child process of a user without rights.
func asNobody(t *testing.T, dir string) {
	work := t.TempDir()
	for _, d := range []string{work, filepath.Dir(work), filepath.Dir(dir), filepath.Dir(filepath.Dir(dir))} {
		if err := os.Chmod(d, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Chown(work, nobody, nobody); err != nil {
		t.Fatal(err)
	}
	self, err := os.ReadFile(os.Args[0]) // go test keeps it where only root comes to
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(work, "leadmark.test")
	if err := os.WriteFile(program, self, 0o755); err != nil {
		t.Fatal(err)
	}
	c := exec.Command(program, "-test.run=^TestCheckReadOnlyFolder$", "-test.v")
	c.Dir = work
	c.Env = append(os.Environ(), readOnlyShoot+"="+dir, "HOME="+work, "TMPDIR="+work, "XDG_CONFIG_HOME="+work)
	c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	out, err := c.CombinedOutput()
	if err != nil || !bytes.Contains(out, []byte("--- PASS: TestCheckReadOnlyFolder")) {
		t.Errorf("as nobody: %v\n%s", err, out)
	}
}
