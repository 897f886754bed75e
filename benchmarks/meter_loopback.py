"""How much the meter moves over loopback, beside a bare socket that sends the same buffer.

Loopback has no air and no cable: this is the most the server itself can do, and it must be well above
the 941 Mb/s that TCP carries on 1 GbE. Run: python benchmarks/meter_loopback.py
"""

from __future__ import annotations

import socket
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "faces"))
from server import running

from rehaul.house import Job
from rehaul.jobs import save_job
from rehaul.web.meter import CHUNK

SECONDS = 3.0
UPLOADS, UP_BYTES = 15, 60 << 20
GIGABIT_TCP_MBPS = 941.5  # 1 GbE less preamble, gap, headers of Ethernet, IPv4 and TCP with time stamps
PULL = """
import socket, sys
with socket.create_connection(("127.0.0.1", int(sys.argv[1]))) as s:
    s.sendall(sys.argv[2].encode().decode("unicode_escape").encode())
    buffer = bytearray(1 << 20)
    total = 0
    while n := s.recv_into(buffer):
        total += n
print(total)
"""
PUSH = f"""
import socket, sys
with socket.create_connection(("127.0.0.1", int(sys.argv[1]))) as s:
    head = sys.argv[2].encode().decode("unicode_escape").encode()
    buffer = b"x" * {1 << 20}
    for _ in range({UPLOADS}):
        s.sendall(head)
        for _ in range({UP_BYTES} >> 20):
            s.sendall(buffer)
        while not s.recv(65536).endswith(b"}}"):
            pass
"""


def bare_mbps() -> float:
    """The peer: one thread that sends the same buffer through a plain socket."""
    with socket.create_server(("127.0.0.1", 0)) as listener:

        def send() -> None:
            connection, _ = listener.accept()
            with connection:
                ends = time.perf_counter() + SECONDS
                while time.perf_counter() < ends:
                    connection.sendall(CHUNK)

        thread = threading.Thread(target=send)
        thread.start()
        command = [sys.executable, "-c", PULL, str(listener.getsockname()[1]), ""]
        got = int(subprocess.check_output(command))
        thread.join()
    return got * 8 / SECONDS / 1e6


def main() -> None:
    bare = bare_mbps()
    print(f"bare socket, one stream          {bare:8.0f} Mb/s")
    with tempfile.TemporaryDirectory() as folder:
        save_job(Path(folder) / "small.rehaul.json", Job(id="small", title="Small"))
        with running(Path(folder)) as server:
            client = server.paired()
            cookie = f"{server.settings.cookie}={client.cookies[server.settings.cookie]}"
            for streams in (1, 4):
                run = client.post("/api/meter").json()["run"]
                ask = (
                    f"GET /api/meter/{run}/down?seconds={SECONDS} HTTP/1.1\\r\\n"
                    f"Host: 127.0.0.1:{server.settings.port}\\r\\n"
                    f"Cookie: {cookie}\\r\\nConnection: close\\r\\n\\r\\n"
                )
                command = [sys.executable, "-c", PULL, str(server.settings.port), ask]
                pulls = [subprocess.Popen(command, stdout=subprocess.PIPE) for _ in range(streams)]
                got = sum(int(pull.communicate()[0]) for pull in pulls)
                found = client.get(f"/api/meter/{run}").json()
                mbps = got * 8 / found["down_seconds"] / 1e6
                print(
                    f"meter down, {streams} stream(s)            {mbps:8.0f} Mb/s"
                    f"   {mbps / bare:5.2f} of bare, {mbps / GIGABIT_TCP_MBPS:5.1f} x 1 GbE,"
                    f" waiting {found['waiting_share']:.2f}, limit {found['limit']}"
                )
            run = client.post("/api/meter").json()["run"]
            ask = (
                f"POST /api/meter/{run}/up HTTP/1.1\\r\\nHost: 127.0.0.1:{server.settings.port}\\r\\n"
                f"Cookie: {cookie}\\r\\nOrigin: {server.url}\\r\\n"
                f"Content-Length: {UP_BYTES}\\r\\n\\r\\n"
            )
            subprocess.run([sys.executable, "-c", PUSH, str(server.settings.port), ask], check=True)
            found = client.get(f"/api/meter/{run}").json()
            mbps = found["up_bytes"] * 8 / found["up_seconds"] / 1e6
            print(
                f"meter up, 1 stream               {mbps:8.0f} Mb/s   {mbps / GIGABIT_TCP_MBPS:5.1f} x 1 GbE"
            )
            started = time.perf_counter()
            for _ in range(200):
                client.get(f"/api/meter/{run}/ping")
            print(f"ping                             {(time.perf_counter() - started) / 200 * 1000:8.2f} ms")


if __name__ == "__main__":
    main()
