"""Functions of the kernel that only others of it call: compiled to be taken in, and no further.

The compiler makes machine code of every function it compiles, though a caller takes in the form
before that, and so on upwards: the same right-hand side became machine code six times. Here a
function stops at the form that callers take in; only doors to Python become machine code.
"""

from typing import Any

from numba import _dynfunc  # type: ignore[attr-defined]
from numba.core import codegen, compiler, compiler_machinery, typed_passes

# without types of their own
JITCodeLibrary: Any = codegen.JITCodeLibrary
NativeLowering: Any = typed_passes.NativeLowering
CompilerBase: Any = compiler.CompilerBase
register_pass: Any = compiler_machinery.register_pass
passes_of: Any = compiler.DefaultPassBuilder.define_nopython_pipeline
lowered_as: Any = compiler._LowerResult


class PartLibrary(JITCodeLibrary):  # type: ignore[misc]
    """The code of a function that is linked into its callers and never run by itself."""

    def _finalize_final_module(self) -> None:
        self._finalize_dynamic_globals()
        self._verify_declare_only_symbols()
        self._finalized = True


@register_pass(mutates_CFG=True, analysis_only=False)
class PartLowering(NativeLowering):  # type: ignore[misc]
    """Lower a function into a library of parts."""

    _name = "lowering of a part"

    def run_pass(self, state: Any) -> bool:
        """As for any function, but what stands for it in calls cannot be called."""
        state.library = PartLibrary(state.targetctx.codegen(), state.func_id.func_qualname)
        state.flags.no_compile = True
        super().run_pass(state)
        library, lowered = state.library, state["cr"]
        name = lowered.fndesc.qualname.split(".")[-1]
        module = lowered.fndesc.lookup_module()
        place = 0  # of its machine code: there is none
        mark = _dynfunc.make_function(*(module, name, name, place), lowered.env, (library,))
        state.targetctx.insert_user_function(mark, lowered.fndesc, [library])
        state.reload_init.extend(library._reload_init)
        state["cr"] = lowered_as(lowered.fndesc, lowered.call_helper, cfunc=mark, env=lowered.env)
        return True


class PartCompiler(CompilerBase):  # type: ignore[misc]
    """The compiler's own way, with that one step exchanged."""

    def define_pipelines(self) -> list[Any]:
        """The passes in their order."""
        passes = passes_of(self.state)
        passes.passes = [
            (PartLowering if each is NativeLowering else each, why) for each, why in passes.passes
        ]
        passes._finalized = False
        passes.finalize()
        return [passes]
