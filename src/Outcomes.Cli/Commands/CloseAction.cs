using System.Globalization;
using System.Text;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Places;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Records;
using Outcomes.Reporting.Page;

namespace Outcomes.Cli.Commands;

/// <summary>Closes an action in the file of actions that a pipeline names; one of minutes by an entry there that names it.</summary>
internal static class CloseAction
{
    /// <exception cref="Failure">There is no such action, or it is closed (exit 2); the file cannot be edited (exit 3) or written
    /// (5).</exception>
    public static void Execute(PipelineDefinition pipeline, string id, DateOnly on, string? effect)
    {
        var entry = pipeline.Actions.FirstOrDefault(each => each.Action.Id == id) ?? throw new Failure(ExitCode.Usage,
            $"--close: the pipeline has no action `{id}`{Nearest.Suggest(id, pipeline.Actions.Select(each => each.Action.Id))}");
        if (effect is null)
            throw new Failure(ExitCode.Usage,
                "--effect is missing: say in a sentence what the action brought about, or that it was given up");
        if (Detect.In(effect, IdentifierSets.All) != Identifier.None)
            throw new Failure(ExitCode.Usage, "--effect seems to hold something that identifies a person; say it without");
        if (entry.Action is { Closed: { } before, Effect: { Length: > 0 } })
            throw new Failure(ExitCode.Usage,
                string.Create(CultureInfo.InvariantCulture, $"--close: `{id}` was closed on {before:yyyy-MM-dd}"));
        if (on < entry.Action.Opened)
            throw new Failure(ExitCode.Usage, string.Create(CultureInfo.InvariantCulture,
                $"--on lies before the action was decided, on {entry.Action.Opened:yyyy-MM-dd}"));
        var shown = pipeline.ActionsFile ?? throw new Failure(ExitCode.Usage,
            $"the closing of an action of minutes is written into a file of actions; name one in `{pipeline.File}`, such as "
                + "`actions: actions.yaml`, and make it, empty");
        // Closed already, and only the effect is added: the day stays.
        var day = entry.Action.Closed ?? on;
        Rewrite(Path.GetFullPath(Path.Combine(pipeline.Folder, shown)), shown, text =>
        {
            var line = entry.FromMinutes
                ? ActionsFile.Parse(text, shown).Closings.FirstOrDefault(each => each.Id == id)?.Line ?? 0
                : ActionsFile.Parse(text, shown).Actions.First(each => each.Action.Id == id).Line;
            return ActionsEdit.Close(text, shown, new(id, day, effect, shown, line), entry.FromMinutes);
        });
        Console.Out.WriteLine(Encode.Visible(string.Create(CultureInfo.InvariantCulture, $"{shown}: `{id}` closed on {day:yyyy-MM-dd}")));
    }

    // One process at a time; the new text takes the old one's place whole.
    private static void Rewrite(string path, string shown, Func<string, string> edit)
    {
        path = new FileInfo(path).ResolveLinkTarget(returnFinalTarget: true)?.FullName ?? path;
        using var work = WorkFolder.Take(path, shown);
        var bytes = DefinitionText.ReadBytes(path, shown);
        byte[] mark = bytes.AsSpan().StartsWith(Encoding.UTF8.Preamble) ? [.. Encoding.UTF8.Preamble] : [];
        string text;
        try
        {
            text = new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(bytes.AsSpan(mark.Length));
        }
        catch (DecoderFallbackException)
        {
            throw Failure.Definition(shown, 0, "the file is not UTF-8; save it as UTF-8, or write `closed` and `effect` by hand");
        }

        var changed = edit(text);
        try
        {
            File.WriteAllBytes(work.New, [.. mark, .. Encoding.UTF8.GetBytes(changed)]);
            if (!OperatingSystem.IsWindows())
                File.SetUnixFileMode(work.New, File.GetUnixFileMode(path));
            Interruption.Undisturbed(() => File.Move(work.New, path, overwrite: true));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new Failure(ExitCode.Output, $"`{shown}` cannot be written; check its permissions. It is as it was");
        }
    }
}
