"""`goodflight separation`: how hard the rocket should pull apart."""

from goodflight.cli.question import Question

QUESTION = Question(
    name="separation",
    place=70,
    help="How hard the rocket should pull apart: lowest and highest for a luggage scale.",
    asks="How hard should the rocket pull apart, in newtons for a luggage scale?",
    how="separation DIR",
    function="studies.questions.separation_window:separation_window",
    text="outputs.separation.text:separation_text",
    record="outputs.separation.json_:separation_record",
    result="studies.questions.separation_window:SeparationStudy",
    more="outputs.separation.json_:MORE",
    flights=2000,
)
