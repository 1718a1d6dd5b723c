
namespace Outcomes.Cli.Output;

/// <summary>Says on a terminal which stage is under way; silent elsewhere, so that a pipe or a log holds results only.</summary>
public sealed class Progress(TextWriter error, bool onTerminal)
{
    public void Stage(string name)
    {
        if (onTerminal) error.Write($"\r\u001b[K{name} ...");
    }

    public void Done()
    {
        if (onTerminal) error.Write("\r\u001b[K");
    }
}
