package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"

	"leadmark/fit/parallel"
)

// pass has the copy work through tasks in several processes, one picture at a time each, and leaves
// what came of them in the working folder.
func (o options) pass(name string, tasks []task) error {
	parts := make([][]task, o.processes)
	for i, t := range tasks {
		if len(tasks) > 1 {
			parts[i%len(parts)] = append(parts[i%len(parts)], t)
			continue
		}
		for k := range parts { // every so manieth frame of the one
			var own []string
			for j := k; j < len(t.Frames); j += len(parts) {
				own = append(own, t.Frames[j])
			}
			parts[k] = append(parts[k], task{t.Set, own})
		}
	}
	kept := filepath.Join(o.work, "kept")
	if err := os.MkdirAll(kept, 0o777); err != nil {
		return err
	}
	photographs, err := filepath.Abs(o.photographs)
	if err != nil {
		return err
	}
	errs := make([]error, len(parts))
	parallel.Each(len(parts), len(parts), func(k int) {
		list := filepath.Join(o.work, fmt.Sprintf("tasks-%s-%d.json", name, k))
		out := filepath.Join(o.work, fmt.Sprintf("out-%s-%d.json", name, k))
		if errs[k] = errors.Join(writeTasks(list, parts[k]), os.RemoveAll(out)); errs[k] != nil {
			return
		}
		cmd := exec.Command(filepath.Join(o.work, "pass"))
		cmd.Env = append(os.Environ(), "GOMAXPROCS=1", "LIMITLOG_TASKS="+list,
			"LIMITLOG_OUT="+out,
			fmt.Sprintf("LIMITLOG_SEED=%d", o.seed), "LIMITLOG_KEPT="+kept, "LIMITLOG_PHOTOS="+photographs)
		if text, err := cmd.CombinedOutput(); err != nil {
			errs[k] = fmt.Errorf("%w\n%s", err, text)
		}
	})
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
