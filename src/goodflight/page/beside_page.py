"""Two plans side by side: of this rocket, of what it was, or of another rocket that is sent here.

What is sent is read in memory, as an archive from a stranger is, and never written to the disk.
"""

import json
from dataclasses import dataclass
from functools import partial
from pathlib import PurePosixPath
from typing import Final
from urllib.parse import urlencode

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from goodflight.outputs.ledger import beside_text
from goodflight.page import room
from goodflight.page.guard import BESIDE_AT
from goodflight.page.view import page, plan_of, units_of
from goodflight.project import Project, ProjectErrors, SaveRefused
from goodflight.project.archive import texts_in, texts_sent
from goodflight.project.folder import digest_of
from goodflight.project.history import as_it_was, earlier, files_with_versions
from goodflight.project.reading import read_project
from goodflight.studies.questions.beside import beside
from goodflight.studies.refusal import StudyRefused

FLIGHTS: Final = 1000
VERSIONS: Final = 8  # of one file that are offered, the newest
COMPARED: Final = ("rocket.toml", "plans.toml")
VERSION, SENT = "version:", "sent:"  # before what the second rocket is, in an address
GONE: Final = "this server holds that rocket no more: choose its folder or file once more"
NONE: Final = "no project came: choose its folder, or the zip file of it"


@dataclass(frozen=True)
class Other:
    """The second rocket: what the address calls it, its project, and what it is in words."""

    asked: str
    project: Project
    words: str = ""


async def get(request: Request) -> Response:
    """Both plans, row by row; the next plan where none is named."""
    return await show(request)


async def show(request: Request, status: int = 200, faults: tuple[str, ...] = ()) -> Response:
    """The page, with what was wrong with a project that was sent."""
    state = room.of(request)
    plan, project = plan_of(request, state.store), state.store.sound()
    try:
        other = await state.workers.in_thread(lambda: _other(request, project))
    except (ProjectErrors, SaveRefused) as error:
        status, faults = 422, faults or _said(error)
        other = Other("", project)
    names = [each.name for each in other.project.plan_tables]
    with_plan = request.query_params.get("with", "")
    if with_plan not in names:
        own = plan in names and other.asked != ""
        with_plan = plan if own and plan else names[_next(names, plan) if not other.asked else 0]
    act = partial(
        beside,
        project,
        plan,
        with_plan,
        other.project,
        flights=min(FLIGHTS, state.answers.flights),
        version=other.words,
    )
    key = digest_of(json.dumps(dict(other.project.texts), sort_keys=True).encode())
    try:
        found = await state.workers.in_thread(
            lambda: state.answers.of_project(
                state.store.hash, "beside", plan, act, other=with_plan, of=other.asked + key
            )
        )
    except StudyRefused as refusal:
        found, status, faults = None, 422, (*faults, str(refusal))
    offered = await state.workers.in_thread(lambda: _versions(request))
    return page(
        request,
        state.store,
        "beside",
        "beside.html",
        status,
        found=found,
        other=with_plan,
        others=names,
        of=other.asked,
        rocket=other.project.name,
        offered=offered,
        told_beside=beside_text,
        faults=faults,
        shown_in=units_of(request),
    )


def _next(names: list[str], plan: str | None) -> int:
    return (names.index(plan) + 1) % len(names) if plan in names else 0


def _other(request: Request, project: Project) -> Other:
    """The second rocket as the address has it; this one where it names none."""
    asked, state = request.query_params.get("of", ""), room.of(request)
    if asked.startswith(VERSION):
        file, _, number = asked.removeprefix(VERSION).rpartition(":")
        if file in COMPARED and number.isdecimal() and len(number) < 7:
            words = f"{file} version {int(number)}"
            return Other(asked, as_it_was(project, file, int(number)), words)
    if asked.startswith(SENT):
        held = state.held.get(asked.removeprefix(SENT))
        if held is None:
            raise SaveRefused(GONE)
        return Other(asked, read_project(json.loads(held[1])))
    return Other("", project)


def _versions(request: Request) -> list[tuple[str, str]]:
    """Earlier texts that can be put beside: address and words."""
    root = room.of(request).store.root
    there = files_with_versions(root)
    return [
        (f"{VERSION}{file}:{each.version.number}", f"{file} until {each.when}")
        for file in COMPARED
        if file in there
        for each in earlier(root, file, VERSIONS)
    ]


def _said(error: ProjectErrors | SaveRefused) -> tuple[str, ...]:
    if isinstance(error, ProjectErrors):
        return tuple(fault.sentence for fault in error.faults)
    return (room.in_words(error),)


async def send(request: Request) -> Response:
    """Another rocket: its zip file, or the files of its folder; held in memory, not written."""
    state, files = room.of(request), dict[str, bytes]()
    for value in (await request.form()).getlist("file"):
        if isinstance(value, UploadFile) and value.filename:
            files[value.filename] = await value.read()
    if not files:
        return await show(request, 422, (NONE,))
    try:
        texts = await state.workers.in_thread(lambda: _texts(files))
        await state.workers.in_thread(lambda: read_project(texts))
    except (ProjectErrors, SaveRefused) as error:
        return await show(request, 422, _said(error))
    key = state.held.put("project", json.dumps(texts, sort_keys=True).encode())
    query = {"plan": plan_of(request, state.store) or "", "of": SENT + key}
    return RedirectResponse(f"/beside?{urlencode(query)}", 303)


def _texts(files: dict[str, bytes]) -> dict[str, str]:
    """The texts of what was sent: of one zip file, or of a folder with its name before each."""
    (first, raw), *more = files.items()
    if not more and not first.endswith(".toml"):
        return texts_in(raw, PurePosixPath(first).name)
    inside = {name.partition("/")[2] or name: part for name, part in files.items()}
    return texts_sent(inside, first.partition("/")[0])


ROUTES = (Route("/beside", get), Route(BESIDE_AT, send, methods=["POST"]))
