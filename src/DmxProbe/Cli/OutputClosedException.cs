namespace DmxProbe.Cli;

/// <summary>Whoever read our output has gone (a pipe into <c>head</c>): the run ends quietly.</summary>
internal sealed class OutputClosedException(IOException cause) : Exception(cause.Message, cause);
