"""What a row asked for, written: figures where they belong, a part weighed alone as a weighing."""

from collections.abc import Mapping, Sequence

from goodflight.project import Project, read_project, write_files
from goodflight.project.answering import answered_texts
from goodflight.project.part_forms import with_weighed
from goodflight.studies.questions.scale import entered
from goodflight.studies.results import Entry


def answered(
    project: Project,
    plan: str | None,
    asks: Sequence[Entry],
    typed: Mapping[str, str | tuple[str, ...]],
) -> Project:
    """Write what was typed into the boxes of a row, all of it or nothing.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - planned flight whose rocket must agree with a weighing. [-]
        asks : sequence of Entry - what the row waits for. [-]
        typed : mapping - home "file:place" -> text, or names for a list. [-]
    Returns
        project : Project - read anew. [-]
    Raises
        SaveRefused - a home names nothing that can be written, or a file changed on disk.
        ProjectErrors - the project would not be valid. StudyRefused - a weighing contradicts the
        rest. Nothing is written then.
    Validity
        A weighing is entered as `goodflight weigh` does: out of a whole that holds the part.
    Source
        `answered_texts`, `entered`.
    """
    weighed = {f"{ask.file}:{ask.place}": ask for ask in asks if ask.kind == "weighing"}
    others = {home: text for home, text in typed.items() if home not in weighed}
    texts = with_weighed(answered_texts(project, others), project)
    for home, text in typed.items():
        if home in weighed and text:
            now = read_project({**project.texts, **texts}, project.root)
            part = weighed[home].choices[0][0]
            texts |= entered(
                now, plan, [part], {"mass": text if isinstance(text, str) else text[0]}
            )
    return write_files(project, texts)
