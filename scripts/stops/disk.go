package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

// listing is the files of a folder by their path in it.
type listing map[string]fs.FileInfo

func files(dir string) listing {
	all := listing{}
	_ = filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		name, _ := filepath.Rel(dir, path)
		switch {
		case err != nil:
			return nil
		case strings.HasPrefix(e.Name(), ".") && path != dir:
			if e.IsDir() {
				return filepath.SkipDir
			}
			return nil
		}
		if info, err := e.Info(); err == nil && path != dir {
			all[name] = info
		}
		return nil
	})
	for name, info := range all {
		for up := filepath.Dir(name); up != "." && !info.IsDir(); up = filepath.Dir(up) {
			delete(all, up) // a folder counts where it is empty
		}
	}
	return all
}

// changed lists what is another, new or gone; a folder only where it is new or gone, and empty.
func (l listing) changed(now listing) map[string]bool {
	all := map[string]bool{}
	for name, info := range now {
		old, was := l[name]
		if !was || !info.IsDir() && (!os.SameFile(old, info) || old.Size() != info.Size() ||
			old.ModTime() != info.ModTime()) {
			all[name] = true
		}
	}
	for name, info := range l {
		if _, is := now[name]; !is && !info.IsDir() {
			all[name] = true
		}
	}
	return all
}

// against says what of a message is not true of the files that were changed.
func against(said string, changed map[string]bool) (wrong []string) {
	_, said, _ = strings.Cut(said, "stopped before the end; ")
	maybe := ""
	if before, after, unsure := strings.Cut(said, ", but "); unsure {
		said, maybe = before, strings.TrimSuffix(after, " may be as it was or new: it was being written")
	}
	list, named := strings.CutPrefix(said, "written before that: ")
	list, whole := strings.CutSuffix(list, "; nothing else was changed")
	if !named && said != "nothing was changed" || named && !whole {
		return []string{"the message is not understood"}
	}
	if named {
		for _, item := range strings.Split(list, ", ") {
			if what := claim(item, changed); what != "" {
				wrong = append(wrong, what)
			}
		}
	}
	for name := range changed {
		if maybe == "" || !strings.Contains(maybe, filepath.Dir(name)) &&
			!strings.Contains(maybe, filepath.Base(name)) && !strings.Contains(name, "greenhouse") {
			wrong = append(wrong, name+" was changed and is not named")
		}
	}
	return wrong
}

// claim takes what an item of the message says from the changed files, and says what is wrong with it.
func claim(item string, changed map[string]bool) string {
	take := func(fits func(name string) bool) int {
		n := 0
		for name := range changed {
			if fits(name) {
				delete(changed, name)
				n++
			}
		}
		return n
	}
	below := func(dir string) func(string) bool {
		return func(name string) bool { return strings.HasPrefix(name, dir+"/") }
	}
	counted := regexp.MustCompile(`^(\d+) (?:ratings?|cut-outs?|pictures?|pages?|files? of the report|files? of the contact sheet)(?: beside the frames)? in (.+)$`)
	if m := counted.FindStringSubmatch(item); m != nil {
		want, _ := strconv.Atoi(m[1])
		got := take(below(m[2]))
		take(func(name string) bool { return name == m[2] })
		if got != want {
			return fmt.Sprintf("%q, but there are %d", item, got)
		}
		return ""
	}
	var path string
	switch {
	case strings.HasPrefix(item, "the report in "), strings.HasPrefix(item, "the contact sheet in "):
		_, path, _ = strings.Cut(item, " in ")
	case strings.HasPrefix(item, "the learned subject "):
		path = strings.TrimPrefix(item, "the learned subject ")
	case strings.HasPrefix(item, "the profile of "):
		path = "rigs/" + strings.TrimPrefix(item, "the profile of ")
	default:
		path = item
	}
	if take(func(name string) bool { return name == path || below(path)(name) }) == 0 {
		return fmt.Sprintf("%q, but it is as it was", item)
	}
	return ""
}
