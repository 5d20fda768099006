"""A program beside the test: writes into a store and says on stdout what was acknowledged.

`append FOLDER JOB COUNT [LIMIT]`: append COUNT events, or go on until killed if COUNT is 0; LIMIT bytes is
the largest file it may write. `race FOLDER JOB COUNT`: the same, going on from what another program wrote.
`fill FOLDER`: append until the disk is full, make room by deleting FOLDER/ballast, append once more.
`open FOLDER`: open, list jobs, append to job 1 if there is one, else create one; print mode and notices.
"""

from __future__ import annotations

import sys
from pathlib import Path

from engine.job.store import Store, StoreBusy, StoreConflict, StoreError, StoreFull
from tests.engine.job.store.helpers import event, new_job


def say(*words: object) -> None:
    print(*words, flush=True)


def append(folder: Path, job: int, count: int, limit: int = 0) -> None:
    if limit:
        import resource
        import signal

        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
    with Store.open(folder) as store:
        number = len(store.events(job))
        last = number + count if count else sys.maxsize
        while number < last:
            number += 1
            try:
                say("ack", store.append(job, number, event(number)).result())
            except StoreError as error:
                say("error", type(error).__name__, error)
                return


def race(folder: Path, job: int, count: int) -> None:
    with Store.open(folder) as store:
        say("ready")
        sys.stdin.readline()
        number, mine = len(store.events(job)) + 1, 0
        while mine < count:
            try:
                store.append(job, number, event(mine, text=sys.argv[5])).result()
                mine += 1
                number += 1
            except StoreConflict as conflict:
                number += len(conflict.newer)
            except StoreBusy:
                continue
        say("done", mine)


def fill(folder: Path) -> None:
    with Store.open(folder) as store:
        say("mode", store.mode)
        job = store.create_job(new_job())
        number = 1
        try:
            while True:
                store.append(job, number, event(number, text="x" * 2000)).result()
                number += 1
        except StoreFull as error:
            say("full", number, error)
        say("read", len(store.events(job)))
        (folder / "ballast").unlink()
        say("ack", store.append(job, number, event(number, text="x" * 2000)).result())
    with Store.open(folder) as store:
        say("kept", len(store.events(job)))


def open_and_try(folder: Path) -> None:
    with Store.open(folder) as store:
        say("mode", store.mode)
        for notice in store.notices:
            say("notice", notice)
        jobs = store.jobs()
        say("jobs", len(jobs))
        job = jobs[0].id if jobs else store.create_job(new_job())
        say("ack", store.append(job, len(store.events(job)) + 1, event(7)).result())
        say("file", store.file)


if __name__ == "__main__":
    folder = Path(sys.argv[2])
    match sys.argv[1]:
        case "append":
            append(folder, *(int(word) for word in sys.argv[3:]))
        case "race":
            race(folder, int(sys.argv[3]), int(sys.argv[4]))
        case "fill":
            fill(folder)
        case "open":
            open_and_try(folder)
