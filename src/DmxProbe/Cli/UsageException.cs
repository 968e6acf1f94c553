namespace DmxProbe.Cli;

/// <summary>The program cannot do what was asked; the message is the one sentence to print, ending with exit code 2.</summary>
internal sealed class UsageException(string sentence) : Exception(sentence);
