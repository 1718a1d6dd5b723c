using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using Outcomes.Analysis;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Measures.Yaml;
using Outcomes.Records;
using Outcomes.Reporting.Meeting;

namespace Outcomes.Cli.Definitions;

/// <summary>
/// Reads minutes that the meeting's page saved. They are JSON, which is YAML as well: one reader gives both their lines. What is wrong is
/// named by file, line and key; no text of theirs is ever in a message.
/// </summary>
internal static partial class MinutesFile
{
    public static readonly YamlKeys Keys = new("minutes", "format", "version", "pipeline", "month", "held", "present", "cases", "actions",
        "numbers", "closed");

    public static readonly YamlKeys PresentKeys = new("minutes present", [.. MeetingChoices.Roles.Select(role => role.Code)]);

    public static readonly YamlKeys CaseKeys = new("minutes cases", "id", "happened", "why", "learning", "harm", "candour", "candour_role",
        "disposition", "factors");

    public static readonly YamlKeys FactorKeys = new("minutes factors", [.. MeetingChoices.Heads.Select(head => head.Code)]);

    public static readonly YamlKeys SideKeys = new("minutes sides", "helped", "hindered");

    public static readonly YamlKeys ActionKeys =
        new("minutes actions", "id", "cases", "what", "owner", "due", "measure", "measure_by");

    public static readonly YamlKeys ClosedKeys = new("minutes closed", "id", "closed", "effect");

    private const string Format = "outcomes-minutes";

    /// <summary>All minutes in the folder that a pipeline names, by file name.</summary>
    /// <param name="named">Where the pipeline names the folder.</param>
    /// <param name="folder">The pipeline's own folder.</param>
    /// <param name="pipeline">The pipeline's name.</param>
    /// <exception cref="Failure">There is no such folder, or minutes are broken or incomplete (exit 3, file and line).</exception>
    public static ImmutableArray<Minutes> ReadFolder(YamlNode named, string folder, string pipeline)
    {
        var path = Path.GetFullPath(Path.Combine(folder, named.Text()));
        if (named.Text().Length == 0 || !Directory.Exists(path))
            throw named.Wrong("there is no such folder of minutes; make it, or check the path");
        string[] names = [.. Directory.EnumerateFiles(path, "*.json").Select(file => Path.GetFileName(file)).Order(StringComparer.Ordinal)];
        return [.. names.Select((name, i) => Read(DefinitionText.Read(Path.Combine(path, name), Shown(name, i)),
            Shown(name, i), pipeline))];

        // The place among the files stands for a name that identifies a person.
        string Shown(string name, int i) =>
            $"{named.Text().TrimEnd('/')}/{ShownName.Of(name, string.Create(CultureInfo.InvariantCulture, $"file {i + 1}"))}";
    }

    /// <summary>What one file of minutes holds.</summary>
    public static Minutes Read(string text, string shown, string pipeline)
    {
        var map = Root(text, shown).Map(Keys);
        if (map.Text("format") != Format)
            throw map.Required("format").Wrong($"minutes have the format `{Format}`; save them from the meeting page");
        if (map.Text("version") != "1")
            throw map.Required("version").Wrong("these minutes are of a version that this program does not know; it reads version 1");
        if (map.Text("pipeline") != pipeline)
            throw map.Required("pipeline").Wrong("these are minutes of another pipeline; move them into its folder of minutes");
        var month = ReportedTime.TryParse(map.Text("month"), out Month read)
            ? read : throw map.Required("month").Wrong($"expected a month such as 2026-03 here, in the years {ReportedTime.Years}");
        var held = Needed(map, "held", "the date of the meeting").Date();
        if (held < month.FirstDay)
            throw map.Required("held").Wrong("the meeting was held before the month that it is about; correct the date");
        Present(map.Optional("present"));
        var cases = Cases(map.Optional("cases")).ToArray();
        foreach (var twice in cases.Select(each => each.Required("id")).GroupBy(item => item.Text()).SelectMany(group => group.Skip(1)))
            throw twice.Wrong("this case stands twice; keep one of them");
        Numbers(map.Optional("numbers"));
        string[] learned = [.. cases.Select(each => each.OptionalText("learning")).OfType<string>().Where(text => text.Trim().Length > 0)];
        return new(new(month, held, [.. learned]), [.. (map.Optional("actions")?.Items() ?? []).Select(node => Action(node, month, held))],
            [.. (map.Optional("closed")?.Items() ?? []).Select(node => Closing(node, held))]);
    }

    // One broken in transit is saved again, not mended by hand.
    private static YamlNode Root(string text, string shown)
    {
        try
        {
            return YamlFile.Read(text, shown);
        }
        catch (Failure failure)
        {
            throw Failure.Definition(shown, failure.Line, "these minutes cannot be read from here on: they are no whole JSON file; "
                + "save them again from the meeting page");
        }
    }

    private static void Present(YamlNode? node)
    {
        if (node is null)
            return;
        var map = node.Map(PresentKeys);
        foreach (var role in PresentKeys.Names)
            if (map.Optional(role) is { } people && people.Integer() is < 0 or > 99)
                throw people.Wrong("expected how many people of this role were there, 0 to 99");
    }

    // What the page has numbered, removed actions included: the page alone goes on from it.
    private static void Numbers(YamlNode? node)
    {
        foreach (var (of, last) in node?.Pairs() ?? [])
            if (!Numbered().IsMatch(of) || last.Integer() is < 1 or > 999_999)
                throw last.Wrong(
                    "expected the last number of an action here, by case id or `general`; save them again from the meeting page");
    }

    /// <summary>Checks every case.</summary>
    private static IEnumerable<YamlMap> Cases(YamlNode? list)
    {
        foreach (var node in list?.Items() ?? [])
        {
            var map = node.Map(CaseKeys);
            ActionsFile.RequireCase(map.Required("id"));
            foreach (var key in (string[])["happened", "why", "learning", "candour_role"])
                if (map.Optional(key) is { } text)
                    ActionsFile.Checked(text, key, isRole: key == "candour_role");
            OneOf(map, "harm", MeetingChoices.Harm);
            OneOf(map, "candour", MeetingChoices.Candour);
            OneOf(map, "disposition", MeetingChoices.Dispositions);
            Factors(map.Optional("factors"));
            yield return map;
        }
    }

    private static void Factors(YamlNode? node)
    {
        if (node is null)
            return;
        var map = node.Map(FactorKeys);
        foreach (var head in FactorKeys.Names)
            if (map.Optional(head)?.Map(SideKeys) is { } sides)
                foreach (var side in SideKeys.Names)
                    if (sides.Optional(side) is { } text)
                        ActionsFile.Checked(text, side, isRole: false);
    }

    private static void OneOf(YamlMap map, string key, ImmutableArray<Choice> choices) =>
        map.Optional(key)?.Choice([.. choices.Select(choice => (choice.Code, true))]);

    private static ActionEntry Action(YamlNode node, Month month, DateOnly held)
    {
        var map = node.Map(ActionKeys);
        var id = map.Required("id");
        if (!ActionId().IsMatch(id.Text()) || !id.Text().StartsWith($"{month}-", StringComparison.Ordinal))
            throw id.Wrong($"the id of an action is the month, the case or `general`, and a number: {month}-general-1");
        var due = Needed(map, "due", "the date by which it is done");
        if (due.Date() < held)
            throw due.Wrong("the action is due before the meeting that decided it; correct the date");
        if (map.Optional("measure") is { } measure && !MeasureId().IsMatch(measure.Text()))
            throw measure.Wrong("a measure is named by its id: small letters, digits and _");
        return new(
            new(id.Text(), ActionsFile.Checked(Needed(map, "what", "what is to be done"), "what", isRole: false),
                ActionsFile.Checked(Needed(map, "owner", "the role that does it"), "owner", isRole: true), due.Date(),
                map.OptionalText("measure"), held, null, null)
            {
                Cases = ActionsFile.Cases(map.Optional("cases")),
                MeasureBy = ActionsFile.MeasureBy(map, held),
            },
            node.File, node.Line, map.Optional("measure")?.Line ?? node.Line)
        { FromMinutes = true };
    }

    private static ActionClosing Closing(YamlNode node, DateOnly held)
    {
        var map = node.Map(ClosedKeys);
        var closed = Needed(map, "closed", "the date on which it was closed");
        if (closed.Date() > held)
            throw closed.Wrong("the action was closed after the meeting that says so; correct the date");
        return new(map.Text("id"), closed.Date(),
            ActionsFile.Checked(Needed(map, "effect", "what the action brought about"), "effect", isRole: false), node.File, node.Line)
        { FromMinutes = true };
    }

    private static YamlNode Needed(YamlMap map, string key, string what) =>
        map.Optional(key) is { } node && !string.IsNullOrWhiteSpace(node.Text()) ? node
        : throw (map.Optional(key) ?? map.Node).Wrong($"`{key}` is missing, {what}; fill it in on the meeting page, or here");

    [GeneratedRegex(@"^\d{4}-\d\d-(?:[A-Z2-7]{6}|[A-Z2-7]{12}|general)-[1-9]\d{0,5}$")]
    private static partial Regex ActionId();

    [GeneratedRegex("^(?:[A-Z2-7]{6}|[A-Z2-7]{12}|general)$")]
    private static partial Regex Numbered();

    [GeneratedRegex("^[a-z0-9_]+$")]
    private static partial Regex MeasureId();
}

/// <summary>What minutes of one meeting say that a report follows.</summary>
/// <param name="Learning">What the meeting learned.</param>
/// <param name="Actions">What it decided.</param>
/// <param name="Closings">Earlier actions that it closed.</param>
internal sealed record Minutes(MeetingLearning Learning, ImmutableArray<ActionEntry> Actions, ImmutableArray<ActionClosing> Closings);
