package main

import (
	"context"
	"errors"
	"fmt"
	"log"
	"net"
	"os/exec"
	"runtime"
	"strconv"

	"github.com/spf13/cobra"

	"leadmark/calib/input"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/desk"
	"leadmark/cmd/leadmark/terminal"
)

// deskOptions are the flags of desk.
type deskOptions struct {
	listen string
	noOpen bool
}

func deskCommand(env *command.Env) *cobra.Command {
	var o deskOptions
	c := &cobra.Command{
		Use:   "desk [FOLDER]",
		Short: "Watch runs, put readings right and plan in the browser",
		Long: "Opens a page of this machine's own in the browser, over FOLDER (default: this one): the " +
			"folder that holds\n" +
			"your runs, shoots and subjects, or a single run. It shows what the command line tells, and " +
			"nothing outside\n" +
			"FOLDER and the rigs' profiles. Only this machine can open it, unless --listen is given. Ctrl-C ends it.",
		Example: "  leadmark demo night1\n  leadmark desk\n  leadmark desk night1 --no-open\n  leadmark desk " +
			". --listen 192.168.1.20:8400",
		Args: cobra.MaximumNArgs(1),
	}
	c.Flags().StringVar(&o.listen, "listen", "", "address and port at which other machines may open it too, "+
		"with the key that is printed")
	c.Flags().BoolVar(&o.noOpen, "no-open", false, "print the address and open no browser")
	c.RunE = env.Begin(func(c *cobra.Command, args []string) error {
		folder := "."
		if len(args) == 1 {
			folder = command.RunFolder(args[0])
		}
		return serveDesk(c.Context(), env, folder, o)
	})
	return c
}

func serveDesk(ctx context.Context, env *command.Env, folder string, o deskOptions) error {
	store, err := env.Store()
	if err != nil {
		return err
	}
	address := o.listen
	if address == "" {
		address = "127.0.0.1:0"
	}
	s, err := desk.New(desk.Options{Folder: folder, Rigs: store, Look: env.Look, Shift: env.Shift, Picture: env.Picture,
		Now: env.Now, Program: env.Program, Log: log.New(env.Stderr, "", log.LstdFlags), Remote: o.listen != ""})
	if err != nil {
		return err
	}
	l, err := net.Listen("tcp", address)
	if err != nil {
		return &input.Error{File: "--listen", What: "the address cannot be listened at", Err: err,
			Hint: "give one of this machine's own addresses with a free port, such as 192.168.1.20:8400"}
	}
	p := terminal.NewPrinter(env.Stdout)
	page := "http://" + reachable(l.Addr()) + s.Path()
	if o.listen != "" {
		fmt.Fprintln(env.Stderr, "warning: whoever has the address below, with its key, can see these folders "+
			"and change corrections and rigs;\n"+
			"         it travels unencrypted: use it only in a network that you trust, and end it when you are done")
	}
	p.Linef("The desk: %s\nCtrl-C ends it.", page)
	if !o.noOpen && p.Err() == nil {
		if err := openBrowser(page); err != nil {
			fmt.Fprintln(env.Stderr, "note: no browser could be opened; open the address yourself")
		}
	}
	env.Endless.Store(true)
	return errors.Join(p.Err(), s.Serve(ctx, l))
}

// reachable is an address that can be opened: where all of the machine's are listened at, the first
// that others can reach.
func reachable(addr net.Addr) string {
	at, ok := addr.(*net.TCPAddr)
	if !ok || !at.IP.IsUnspecified() {
		return addr.String()
	}
	all, _ := net.InterfaceAddrs() // none: the loopback's will do
	for _, a := range all {
		if ip, ok := a.(*net.IPNet); ok && ip.IP.To4() != nil && !ip.IP.IsLoopback() {
			return net.JoinHostPort(ip.IP.String(), strconv.Itoa(at.Port))
		}
	}
	return net.JoinHostPort("127.0.0.1", strconv.Itoa(at.Port))
}

// openBrowser asks the system to open a page, and does not wait for it.
func openBrowser(page string) error {
	name, args := "xdg-open", []string{page}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", page}
	}
	c := exec.Command(name, args...)
	if err := c.Start(); err != nil {
		return err
	}
	go func() { _ = c.Wait() }() // what the browser comes to is not ours to tell
	return nil
}
