using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>Reads a mapping file.</summary>
public static partial class MappingFile
{
    public static readonly YamlKeys Keys = new("mapping", "table", "columns", "derive", "constants", "attempts",
        "status", "columns_checked");

    public static readonly YamlKeys TableKeys = new("mapping table", "separator", "encoding", "rows", "sheet", "header_row", "decimal");

    public static readonly YamlKeys ColumnKeys = new("mapping columns", "column", "codes", "unit", "date", "time", "missing", "split");

    public static readonly YamlKeys HourBandKeys = new("mapping derive hour_band", "from_time", "time", "missing");

    public static readonly YamlKeys AgeBandKeys = new("mapping derive age_band", "from_age", "missing");

    public static readonly YamlKeys DayTypeKeys = new("mapping derive day_type", "from_date", "date", "holidays", "missing");

    public static readonly YamlKeys AttemptsKeys = new("mapping attempts", "wide", "columns");

    public static readonly YamlKeys CheckedKeys = new("mapping columns_checked", "rules", "why");

    public static readonly YamlKeys StatusKeys = new("mapping status", "column", "deleted");

    private static readonly (string Word, MissingReason Reason)[] Reasons =
    [
        ("blank", MissingReason.Blank), ("not_recorded", MissingReason.NotRecorded), ("unknown", MissingReason.Unknown),
        ("withheld", MissingReason.Withheld), ("not_applicable", MissingReason.NotApplicable), ("unrecordable", MissingReason.Unrecordable),
    ];

    /// <param name="path">Where the file is.</param>
    /// <param name="shown">Its name in messages.</param>
    public static SourceMapping Read(string path, string shown)
    {
        var text = DefinitionText.Read(path, shown);
        var root = YamlFile.Read(text, shown);
        var map = root.Map(Keys);
        var derived = map.Optional("derive") is { } derive ? derive.Pairs().Select(pair => Derived(pair.Key, pair.Value)) : [];
        return new SourceMapping(shown, text, Layout(map.Optional("table")),
            [.. Columns(map.Required("columns")), .. derived])
        {
            Constants = map.Optional("constants") is { } constants
                ? [.. constants.Pairs().Select(pair => new ConstantMapping(pair.Key, pair.Value.Text(), pair.Value.Line))]
                : [],
            Attempts = map.Optional("attempts") is { } attempts ? Wide(attempts) : null,
            Checked = map.Optional("columns_checked") is { } looked
                ? [.. looked.Pairs().Select(pair => Checked(pair.Key, pair.Value))]
                : [],
            Status = map.Optional("status") is { } status ? Status(status) : null,
        };
    }

    private static TableLayout Layout(YamlNode? node)
    {
        if (node is null) return new TableLayout(null, false);
        var map = node.Map(TableKeys);
        var headerRow = map.Optional("header_row");
        if (headerRow is not null && headerRow.Integer() < 1) throw headerRow.Wrong("lines are counted from 1");
        return new TableLayout(
            map.Optional("separator")?.Choice<char?>((",", ','), (";", ';'), ("tab", '\t'), ("\t", '\t')),
            map.Optional("rows")?.Choice(("attempts", true), ("records", false), ("samples", false)) ?? false)
        {
            RowsAreSamples = map.Optional("rows")?.Choice(("samples", true), ("attempts", false), ("records", false)) ?? false,
            Windows1252 = map.Optional("encoding")?.Choice(("utf-8", false), ("windows-1252", true)) ?? false,
            HeaderRow = headerRow?.Integer() ?? 0,
            Sheet = map.OptionalName("sheet"),
            DecimalComma = map.Optional("decimal")?.Choice((".", false), (",", true)) ?? false,
            Line = node.Line,
        };
    }

    private static ImmutableArray<ColumnMapping> Columns(YamlNode node) => [.. node.Pairs().Select(pair => Column(pair.Key, pair.Value))];

    private static ColumnMapping Column(string field, YamlNode node)
    {
        if (!node.IsMap) return new ColumnMapping(field, node.Text(), node.Line);
        var map = node.Map(ColumnKeys);
        var split = map.OptionalText("split") ?? ";";
        if (map.Optional("date") is not null && map.Optional("time") is { } both)
            throw both.Wrong("a field is a date or a time of day, not both; keep one pattern");
        var columns = map.Required("column") is { IsList: true } list
            ? [.. list.Items().Select(item => item.Text().Trim())]
            : ImmutableArray.Create(map.Text("column").Trim());
        if (columns.Length == 0 || columns.Contains("") || columns.Distinct().Count() < columns.Length)
            throw map.Required("column")
                .Wrong("`column` is one heading, or a list of different ones of which the first that is not blank counts");
        return new ColumnMapping(field, columns[0], node.Line)
        {
            Others = columns[1..],
            Codes = map.Optional("codes") is { } codes
                ? Codes(codes)
                : ImmutableDictionary<string, string>.Empty,
            Unit = map.OptionalText("unit"),
            Pattern = map.OptionalText("date") ?? map.OptionalText("time"),
            Missing = map.Optional("missing") is { } missing ? Missing(missing) : ImmutableDictionary<string, MissingReason>.Empty,
            Split = split.Length == 1 && char.IsAscii(split[0])
                ? split[0]
                : throw map.Required("split").Wrong("`split` is one character, such as \";\""),
        };
    }

    private static ImmutableDictionary<string, string> Codes(YamlNode node)
    {
        var codes = ImmutableDictionary.CreateBuilder<string, string>();
        foreach (var (code, value) in node.Pairs())
            if (!codes.TryAdd(code.Trim(), value.Text()))
                throw value.Wrong($"the code `{code.Trim()}` stands twice (blanks around it do not count); remove one");
        return codes.ToImmutable();
    }

    // derive: {hour_band: {from_time: "Time", time: HH:mm}, age_band: {from_age: "Age"}, day_type: {from_date: "Date", date:
    // dd/MM/yyyy, holidays: []}}
    private static ColumnMapping Derived(string field, YamlNode node)
    {
        var (from, keys) = field switch
        {
            "hour_band" => (DeriveFrom.Time, HourBandKeys),
            "age_band" => (DeriveFrom.Age, AgeBandKeys),
            "day_type" => (DeriveFrom.Date, DayTypeKeys),
            _ => throw node.Wrong($"`{field}` cannot be derived; hour_band (from_time), age_band (from_age) and day_type (from_date) can"),
        };
        var map = node.Map(keys);
        var holidays = from == DeriveFrom.Date ? map.Required("holidays").Items().Select(Holiday).ToImmutableArray() : [];
        return new ColumnMapping(field, map.Text(keys.Names[0]).Trim(), node.Line)
        {
            Derive = new Derivation(from, holidays),
            Pattern = map.OptionalText("date") ?? map.OptionalText("time"),
            Missing = map.Optional("missing") is { } missing ? Missing(missing) : ImmutableDictionary<string, MissingReason>.Empty,
        };
    }

    private static DateOnly Holiday(YamlNode node) => node.Date("a public holiday is a date such as 2026-12-25");

    // A list of words means not recorded; a map gives each word its reason.
    private static ImmutableDictionary<string, MissingReason> Missing(YamlNode node) => node.IsMap
        ? node.Pairs().ToImmutableDictionary(pair => pair.Key, pair => pair.Value.Choice(Reasons))
        : node.Items().ToImmutableDictionary(item => item.Text(), _ => MissingReason.NotRecorded);

    private static WideAttempts Wide(YamlNode node)
    {
        var map = node.Map(AttemptsKeys);
        var pattern = map.Text("wide");
        var number = pattern.IndexOf("{n}", StringComparison.Ordinal);
        if (number < 0 || pattern.IndexOf('*', StringComparison.Ordinal) < number)
            throw map.Required("wide")
                .Wrong("`wide` needs {n} for the attempt's number and, after it, * for the field, such as attempt{n}_*");
        return new WideAttempts(pattern, map.Optional("columns") is { } columns ? Columns(columns) : [], node.Line);
    }

    // columns_checked: {Monitor code: {rules: [identifier_nhs_number], why: "codes of monitors, checked by the audit lead, 2026-03-31"}}
    // A text alone is the reason, and lifts every search of the column.
    private static CheckedColumn Checked(string heading, YamlNode node)
    {
        if (!node.IsMap) return new CheckedColumn(heading.Trim(), Reason(node), node.Line);
        var map = node.Map(CheckedKeys);
        var rules = map.Required("rules").Items();
        if (rules.FirstOrDefault(rule => !LiftedRules.Known.Contains(rule.Text())) is { } unknown)
            throw unknown.Wrong($"no such rule; those that can be lifted are {string.Join(", ", LiftedRules.Known)}");
        return rules.Any()
            ? new CheckedColumn(heading.Trim(), Reason(map.Required("why")), node.Line) { Rules = [.. rules.Select(rule => rule.Text())] }
            : throw map.Required("rules").Wrong("name the rules to lift, as the refusal gave them, such as [identifier_nhs_number]");
    }

    private static string Reason(YamlNode node) => Dated().IsMatch(node.Text())
        ? node.Text()
        : throw node.Wrong("say why the column identifies nobody, the role of who checked it, and the date, such as \"codes of monitors, "
            + "checked by the audit lead, 2026-03-31\"");

    [GeneratedRegex(@"\w{3,}.*\d{4}-\d{2}-\d{2}")]
    private static partial Regex Dated();

    private static StatusMapping Status(YamlNode node)
    {
        var map = node.Map(StatusKeys);
        return new StatusMapping(map.Text("column"), [.. map.Required("deleted").Items().Select(item => item.Text())], node.Line);
    }
}
