using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>Reads the actions of review meetings: a list of entries, in any order.</summary>
internal static class ActionsFile
{
    public static readonly YamlKeys Keys = new("action", "id", "what", "owner", "due", "measure", "opened", "closed", "effect");

    /// <summary>The actions in the order of the file.</summary>
    /// <exception cref="Failure">A key is wrong or unknown, an id stands twice, an owner is a person, or the file is missing (exit 3, file
    /// and line).</exception>
    public static ImmutableArray<ActionEntry> Read(string path, string shown)
    {
        ImmutableArray<ActionEntry> entries = [.. YamlFile.ReadPath(path, shown).Items().Select(Entry)];
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var entry in entries)
            if (!seen.Add(entry.Action.Id))
                throw Failure.Definition(shown, entry.Line, $"the action `{entry.Action.Id}` stands twice; give one of them another id");
        return entries;
    }

    private static ActionEntry Entry(YamlNode node)
    {
        var map = node.Map(Keys);
        foreach (var key in (string[])["what", "owner", "effect"])
            if (map.Optional(key) is { } text && Detect.In(text.Text(), key == "owner" ? IdentifierSets.OfUnread : IdentifierSets.All) != 0)
                throw text.Wrong(key == "owner"
                    ? "`owner` looks like a person or an address; name a role, such as `airway lead`"
                    : $"`{key}` seems to hold something that identifies a person; say it without");
        var (opened, due) = (map.Required("opened").Date(), map.Required("due").Date());
        var closed = map.Optional("closed") is { } end ? end.Date() : (DateOnly?)null;
        if (closed < opened)
            throw map.Required("closed").Wrong("`closed` lies before `opened`");
        return new ActionEntry(
            new DepartmentAction(map.Text("id"), map.Text("what"), map.Text("owner"), due, map.OptionalText("measure"), opened, closed,
                map.OptionalText("effect")),
            node.File, node.Line, map.Optional("measure")?.Line ?? node.Line);
    }
}

/// <summary>An action, the file that holds it, and its line and that of the measure it names.</summary>
public sealed record ActionEntry(DepartmentAction Action, string File, int Line, int MeasureLine);
