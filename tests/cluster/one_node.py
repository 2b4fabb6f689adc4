# SPDX-License-Identifier: GPL-3.0-or-later
"""A Slurm of one node in a folder of its own, for a test: keys, sockets and ports that nothing else uses; gone afterwards."""
import os
import pathlib
import pwd
import socket
import subprocess
import tempfile
import time


def free_port():
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return s.getsockname()[1]


class OneNode:
    def __init__(self):
        self.temporary = tempfile.TemporaryDirectory(prefix="seamwright-slurm-", dir="/tmp")  # sockets want short names
        self.folder = pathlib.Path(self.temporary.name)
        self.started = []
        self.environment = {**os.environ, "SLURM_CONF": str(self.folder / "slurm.conf")}

    def __enter__(self):
        try:
            self.start()
        except BaseException:
            self.__exit__()
            raise
        return self

    def start(self):
        self.folder.chmod(0o755)
        key = self.folder / "munge.key"
        key.write_bytes(os.urandom(1024))
        key.chmod(0o400)
        munge = self.folder / "munge.socket"
        self.begin("munged", "--foreground", "--force", f"--key-file={key}", f"--socket={munge}", f"--pid-file={self.folder}/munged.pid",
                   f"--log-file={self.folder}/munged.log", f"--seed-file={self.folder}/munged.seed")
        self.wait_for(munge.exists, "munge")
        memory_mb = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") >> 20
        user, host = pwd.getpwuid(os.getuid()).pw_name, socket.gethostname().split(".")[0]
        for name in ("state", "spool"):
            (self.folder / name).mkdir()
        (self.folder / "slurm.conf").write_text(f"""ClusterName=test
SlurmctldHost={host}(127.0.0.1)
SlurmctldPort={free_port()}
SlurmdPort={free_port()}
AuthType=auth/munge
AuthInfo=socket={munge}
CredType=cred/munge
SlurmUser={user}
SlurmdUser={user}
StateSaveLocation={self.folder}/state
SlurmdSpoolDir={self.folder}/spool
SlurmctldPidFile={self.folder}/slurmctld.pid
SlurmdPidFile={self.folder}/slurmd.pid
SlurmctldLogFile={self.folder}/slurmctld.log
SlurmdLogFile={self.folder}/slurmd.log
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
ReturnToService=2
MailProg=/bin/true
MpiDefault=none
MinJobAge=600
SchedulerParameters=sched_interval=2,batch_sched_delay=0
KillWait=2
NodeName={host} NodeAddr=127.0.0.1 CPUs={os.cpu_count()} RealMemory={memory_mb} State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES MaxTime=INFINITE State=UP
""", encoding="utf-8")
        self.begin("slurmctld", "-D", "-f", str(self.folder / "slurm.conf"))
        self.begin("slurmd", "-D", "-N", host, "-f", str(self.folder / "slurm.conf"))
        self.wait_for(lambda: "idle" in self.run("sinfo", "-h", "-o", "%T", check=False), "an idle node")

    def begin(self, program, *arguments):
        search = os.environ["PATH"] + ":/usr/sbin:/sbin"
        log = (self.folder / f"{program}.out").open("w")
        self.started.append(subprocess.Popen([program, *arguments], env={**self.environment, "PATH": search}, stdout=log, stderr=log))

    def run(self, *command, check=True, cwd=None):
        done = subprocess.run(command, env=self.environment, cwd=cwd, capture_output=True, text=True)
        if check and done.returncode != 0:
            raise RuntimeError(f"{' '.join(command)}: {done.stderr}")
        return done.stdout

    def wait_for(self, true, what, seconds=60):
        end = time.monotonic() + seconds
        while not true():
            if time.monotonic() > end:
                logs = "\n".join(f"{p.name}: {p.read_text(errors='replace')[-2000:]}" for p in sorted(self.folder.glob("*.log")) + sorted(self.folder.glob("*.out")))
                raise RuntimeError(f"no {what} within {seconds} s\n{logs}")
            time.sleep(0.2)

    def __exit__(self, *_):
        for process in reversed(self.started):
            process.terminate()
        for process in self.started:
            try:
                process.wait(10)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()
        self.temporary.cleanup()
