package storetest

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// told are the calls that a PowerDisk is told of.
const told = "openat,creat,linkat,renameat,renameat2,rename,link,unlink,unlinkat,mkdirat,mkdir,ftruncate,fsync," +
	"fdatasync,syncfs,sync_file_range,write,pwrite64,writev,copy_file_range,sendfile,close,dup,dup3,fallocate"

// Replay runs the program to its end and tells a PowerDisk, which has Dir's files from before, of
// each call that changes them; each is called after every one, with the call's text. It returns
// what the program said.
func (p Traced) Replay(t *testing.T, d *PowerDisk, each func(call string)) (said string) {
	t.Helper()
	log := filepath.Join(t.TempDir(), "trace")
	out, err := p.command(log, told, "-xx", "-s", "99999999").CombinedOutput()
	if err != nil {
		t.Fatalf("%q: %v\n%s", p.Args, err, out)
	}
	file, err := os.Open(log)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := replay{disk: d, dir: p.Dir, open: map[int]*node{}, begun: map[string]string{}}
	lines := bufio.NewReaderSize(file, 1<<20)
	for {
		line, err := lines.ReadString('\n')
		if line == "" && err != nil {
			break
		}
		call, known, err := r.line(strings.TrimSuffix(line, "\n"))
		if err != nil {
			t.Fatal(err)
		}
		if known {
			each(call)
		}
	}
	return string(out)
}

// replay goes through a program's calls.
type replay struct {
	disk  *PowerDisk
	dir   string
	open  map[int]*node
	begun map[string]string // by thread: a call that another one's came into
}

var (
	unfinished = regexp.MustCompile(`^(\d+) +(.*) <unfinished \.\.\.>$`)
	resumed    = regexp.MustCompile(`^(\d+) +<\.\.\. [a-z0-9_]+ resumed>(.*)$`)
	whole      = regexp.MustCompile(`^(\d+) +([a-z0-9_]+)\((.*)\) += (-?\d+)`)
)

// line takes one of the trace; known says whether it changed what the disk has.
func (r *replay) line(line string) (call string, known bool, err error) {
	if m := unfinished.FindStringSubmatch(line); m != nil {
		r.begun[m[1]] = m[2]
		return "", false, nil
	}
	if m := resumed.FindStringSubmatch(line); m != nil {
		line = m[1] + " " + r.begun[m[1]] + m[2]
	}
	m := whole.FindStringSubmatch(line)
	if m == nil {
		return "", false, nil // an exit, a signal
	}
	result, err := strconv.Atoi(m[4])
	if err != nil || result < 0 {
		return "", false, err
	}
	args := fields(m[3])
	known, err = r.call(m[2], args, result)
	if len(args) > 1 && strings.Contains(m[2], "write") {
		args[1] = fmt.Sprintf("%d bytes", len(args[1]))
	}
	return m[2] + " " + strings.Join(args, ", "), known, err
}

// call does one call on the model.
func (r *replay) call(name string, args []string, result int) (known bool, err error) {
	number := func(i int) int {
		n, _ := strconv.Atoi(args[i])
		return n
	}
	switch name {
	case "openat":
		return r.opened(args[1], args[2], result), nil
	case "close":
		delete(r.open, number(0))
	case "write", "pwrite64":
		n := r.open[number(0)]
		if n == nil {
			return false, nil
		}
		text := args[1][:min(result, len(args[1]))]
		if name == "pwrite64" {
			if at := number(3); at != len(n.text) {
				return false, fmt.Errorf("written into the midst of a file at %d: the model knows only files that grow", at)
			}
		}
		n.text += text
		return true, nil
	case "ftruncate":
		if n := r.open[number(0)]; n != nil {
			n.text = n.text[:min(number(1), len(n.text))]
			return true, nil
		}
	case "fsync", "fdatasync":
		if n := r.open[number(0)]; n != nil {
			r.disk.syncNode(n)
			return true, nil
		}
	case "renameat", "renameat2":
		return r.two(args[1], args[3], r.disk.rename), nil
	case "linkat":
		return r.two(args[1], args[3], func(from, to string) { r.disk.put("link "+to, to, r.disk.find(from)) }), nil
	case "unlinkat":
		if path, ok := r.below(args[1]); ok {
			r.disk.remove(path)
			return true, nil
		}
	case "mkdirat":
		if path, ok := r.below(args[1]); ok {
			r.disk.put("make "+path, path, folderNode())
			return true, nil
		}
	default: // one that the model does not know may do no harm where it works on other files
		for _, a := range args[:min(2, len(args))] {
			if fd, err := strconv.Atoi(a); err == nil && r.open[fd] != nil {
				return false, fmt.Errorf("the model does not know %s", name)
			}
		}
	}
	return false, nil
}

// opened follows a file that was opened.
func (r *replay) opened(arg, flags string, fd int) bool {
	path, ok := r.below(arg)
	delete(r.open, fd)
	if !ok {
		return false
	}
	n := r.disk.find(path)
	made := n == nil
	if made {
		if !strings.Contains(flags, "O_CREAT") {
			return false
		}
		n = &node{}
		r.disk.put("make "+path, path, n)
	}
	if strings.Contains(flags, "O_TRUNC") {
		n.text = ""
		made = true
	}
	r.open[fd] = n
	return made
}

func (r *replay) two(from, to string, do func(from, to string)) bool {
	a, okA := r.below(from)
	b, okB := r.below(to)
	if okA && okB {
		do(a, b)
	}
	return okA && okB
}

// below is a path from the world's folder.
func (r *replay) below(path string) (string, bool) {
	if !filepath.IsAbs(path) {
		path = filepath.Join(r.dir, path)
	}
	rel, err := filepath.Rel(r.dir, path)
	return rel, err == nil && rel != ".." && !strings.HasPrefix(rel, "../")
}

// fields are a call's arguments; texts, which strace prints in hexadecimal, are decoded.
func fields(s string) (list []string) {
	for s != "" {
		s = strings.TrimLeft(s, " ,")
		if !strings.HasPrefix(s, `"`) {
			one, rest, _ := strings.Cut(s, ",")
			list, s = append(list, one), rest
			continue
		}
		end := strings.IndexByte(s[1:], '"') + 1
		list, s = append(list, unhex(s[1:end])), s[end+1:]
	}
	return list
}

func unhex(s string) string {
	var b strings.Builder
	for i := 0; i+3 < len(s); i += 4 { // \xNN
		n, err := strconv.ParseUint(s[i+2:i+4], 16, 8)
		if err != nil {
			return s
		}
		b.WriteByte(byte(n))
	}
	return b.String()
}
