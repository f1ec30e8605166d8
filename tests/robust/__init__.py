"""What must hold at the border: files, disks, clocks, sockets and people that do not behave."""
