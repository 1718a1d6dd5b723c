using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>
/// The actions of a pipeline: those of its file of actions, then those of minutes, closed where an entry of the file or
/// later minutes say so.
/// </summary>
internal static class PipelineActions
{
    /// <param name="pipeline">The pipeline's own keys.</param>
    /// <param name="folder">The folder that paths start from.</param>
    /// <param name="name">The pipeline's name.</param>
    /// <exception cref="Failure">A file is wrong, or two entries share an id (exit 3, file and line).</exception>
    public static (ImmutableArray<ActionEntry> Actions, ImmutableArray<MeetingLearning> Learning) Read(
        YamlMap pipeline, string folder, string name)
    {
        var own = pipeline.OptionalName("actions") is { } file ? ActionsFile.Read(Path.Combine(folder, file), file) : ActionList.None;
        var minutes = pipeline.Optional("minutes") is { } named ? MinutesFile.ReadFolder(named, folder, name) : [];
        return (Merge(own, minutes), [.. minutes.Select(each => each.Learning)]);
    }

    /// <summary>Both kinds as one list.</summary>
    public static ImmutableArray<ActionEntry> Merge(ActionList own, ImmutableArray<Minutes> minutes)
    {
        ActionEntry[] all = [.. own.Actions, .. minutes.SelectMany(each => each.Actions)];
        var places = new Dictionary<string, ActionEntry>(StringComparer.Ordinal);
        foreach (var entry in all)
            if (!places.TryAdd(entry.Action.Id, entry))
                throw Failure.Definition(entry.File, entry.Line, $"the action `{entry.Action.Id}` stands twice, first at "
                    + $"{Place(places[entry.Action.Id])}; give one of them another id");
        var closings = new Dictionary<string, ActionClosing>(StringComparer.Ordinal);
        foreach (var closing in own.Closings.Concat(minutes.SelectMany(each => each.Closings)))
            Close(closing, places, closings);
        return
        [
            .. all.Select(entry => closings.TryGetValue(entry.Action.Id, out var closing)
                ? entry with { Action = entry.Action with { Closed = closing.Closed, Effect = closing.Effect } }
                : entry),
        ];
    }

    private static void Close(ActionClosing closing, Dictionary<string, ActionEntry> places, Dictionary<string, ActionClosing> closings)
    {
        // An id of minutes may be any text: it is not repeated.
        if (!places.TryGetValue(closing.Id, out var entry))
            throw Wrong(closing.FromMinutes
                ? "no action has the id that is closed here; is the file of actions or are earlier minutes missing?"
                : $"no minutes hold an action `{closing.Id}`"
                + Nearest.Suggest(closing.Id, places.Values.Where(each => each.FromMinutes).Select(each => each.Action.Id)));
        if (!entry.FromMinutes && !closing.FromMinutes)
            throw Wrong($"the action `{closing.Id}` stands in this file, at {Place(entry)}; write `closed` and `effect` there");
        if (closing.Closed < entry.Action.Opened)
            throw Wrong($"`closed` lies before the meeting that decided it, at {Place(entry)}");
        if (entry.Action.Closed is not null)
            throw Wrong($"the action `{closing.Id}` is closed twice, first at {Place(entry)}");
        if (!closings.TryAdd(closing.Id, closing))
            throw Wrong($"the action `{closing.Id}` is closed twice, first at {closings[closing.Id].File}:{closings[closing.Id].Line}");

        Failure Wrong(string message) => Failure.Definition(closing.File, closing.Line, message);
    }

    private static string Place(ActionEntry entry) => $"{entry.File}:{entry.Line}";
}
