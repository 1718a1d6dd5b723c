using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Outcomes.Analysis;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>Reads the actions of review meetings, and closings of those that stand in minutes: a list of entries, in any order.</summary>
public static partial class ActionsFile
{
    public static readonly YamlKeys Keys =
        new("action", "id", "what", "owner", "due", "measure", "measure_by", "cases", "opened", "closed", "effect");

    public static readonly YamlKeys ClosingKeys = new("action closes", "closes", "closed", "effect");

    /// <summary>The entries in the order of the file.</summary>
    /// <exception cref="Failure">A key is wrong or unknown, an owner is a person, or the file is missing (exit 3, file and
    /// line).</exception>
    public static ActionList Read(string path, string shown) => Parse(DefinitionText.Read(path, shown), shown);

    /// <summary>The same for its text.</summary>
    public static ActionList Parse(string text, string shown)
    {
        // A file of comments alone is one that has nothing in it yet.
        if (text.Split('\n').All(line => line.AsSpan().TrimStart() is [] or ['#', ..]))
            return ActionList.None;
        var (actions, closings) = (ImmutableArray.CreateBuilder<ActionEntry>(), ImmutableArray.CreateBuilder<ActionClosing>());
        foreach (var node in YamlFile.Read(text, shown).Items())
            if (node.IsMap && node.Pairs().Any(pair => pair.Key == "closes"))
                closings.Add(Closing(node));
            else
                actions.Add(Entry(node));
        return new(actions.ToImmutable(), closings.ToImmutable());
    }

    /// <summary>Refuses a text that seems to name a person.</summary>
    /// <param name="text">The text's node.</param>
    /// <param name="key">Its key, for the message.</param>
    /// <param name="isRole">True where it should name a role, which is never a name alone.</param>
    public static string Checked(YamlNode text, string key, bool isRole) =>
        Detect.In(text.Text(), isRole ? IdentifierSets.OfUnread : IdentifierSets.All) == Identifier.None
            ? text.Text()
            : throw text.Wrong(isRole
                ? $"`{key}` looks like a person or an address; name a role, such as `airway lead`"
                : $"`{key}` seems to hold something that identifies a person; say it without");

    /// <summary>Ids of cases, as cases.html prints them.</summary>
    public static ImmutableArray<string> Cases(YamlNode? node) => node is null ? [] :
    [
        .. node.Items().Select(RequireCase),
    ];

    /// <summary>The id of a case, as cases.html prints it.</summary>
    public static string RequireCase(YamlNode node) => CaseId().IsMatch(node.Text())
        ? node.Text()
        : throw node.Wrong("expected a case id here, as cases.html prints it: six capital letters and digits 2 to 7");

    private static ActionEntry Entry(YamlNode node)
    {
        var map = node.Map(Keys);
        foreach (var key in (string[])["what", "owner", "effect"])
            if (map.Optional(key) is { } text)
                Checked(text, key, isRole: key == "owner");
        var (opened, due) = (map.Required("opened").Date(), map.Required("due").Date());
        var closed = map.Optional("closed") is { } end ? end.Date() : (DateOnly?)null;
        if (closed < opened)
            throw map.Required("closed").Wrong("`closed` lies before `opened`");
        return new ActionEntry(
            new DepartmentAction(map.Text("id"), map.Text("what"), map.Text("owner"), due, map.OptionalText("measure"), opened, closed,
                map.OptionalText("effect"))
            {
                Cases = Cases(map.Optional("cases")),
                MeasureBy = MeasureBy(map, opened),
            },
            node.File, node.Line, map.Optional("measure")?.Line ?? node.Line);
    }

    /// <summary>By when the measure should have moved; null where nobody said.</summary>
    public static DateOnly? MeasureBy(YamlMap map, DateOnly opened)
    {
        if (map.Optional("measure_by") is not { } node)
            return null;
        var by = node.Date();
        return map.Optional("measure") is null ? throw node.Wrong("`measure_by` needs the `measure` that should have moved by then")
            : by < opened ? throw node.Wrong("`measure_by` lies before the action was decided")
            : by;
    }

    private static ActionClosing Closing(YamlNode node)
    {
        var map = node.Map(ClosingKeys);
        return new ActionClosing(map.Text("closes"), map.Required("closed").Date(),
            map.Optional("effect") is { } effect ? Checked(effect, "effect", isRole: false) : null, node.File, node.Line);
    }

    [GeneratedRegex("^[A-Z2-7]{6}(?:[A-Z2-7]{6})?$")]
    private static partial Regex CaseId();
}

/// <summary>What a file of actions holds.</summary>
/// <param name="Actions">Its actions.</param>
/// <param name="Closings">Closings of actions that stand in minutes.</param>
public sealed record ActionList(ImmutableArray<ActionEntry> Actions, ImmutableArray<ActionClosing> Closings)
{
    public static readonly ActionList None = new([], []);
}

/// <summary>An action, the file that holds it, and its line and that of the measure it names.</summary>
public sealed record ActionEntry(DepartmentAction Action, string File, int Line, int MeasureLine)
{
    /// <summary>True where it stands in minutes, which nobody edits: an entry of the file of actions closes it.</summary>
    public bool FromMinutes { get; init; }
}

/// <summary>That an action was closed: by an entry of the file of actions, for one of minutes, or by minutes, for any.</summary>
/// <param name="Id">The action.</param>
/// <param name="Closed">When it was done or given up.</param>
/// <param name="Effect">What it brought about; null where that is not said yet.</param>
/// <param name="File">The file that says so.</param>
/// <param name="Line">And its line.</param>
public sealed record ActionClosing(string Id, DateOnly Closed, string? Effect, string File, int Line)
{
    /// <summary>True where minutes say so.</summary>
    public bool FromMinutes { get; init; }
}
