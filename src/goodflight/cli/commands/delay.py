"""`goodflight delay`: how much to take out of the motor's delay."""

from goodflight.cli.question import Question

QUESTION = Question(
    name="delay",
    place=50,
    help="Every delay the motor allows, the safest first.",
    asks="How much delay do I take out of the motor?",
    how="delay DIR",
    function="studies.questions.delay:delay",
    text="outputs.flight.delay_text:delay_text",
    record="outputs.flight.json_:delay_record",
    result="studies.motor_results:DelayStudy",
    more="outputs.flight.json_:MORE",
    flights=2000,
    each="for each delay",
)
