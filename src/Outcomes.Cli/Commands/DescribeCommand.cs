using System.CommandLine;
using System.Globalization;
using Outcomes.Cli.Output;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes describe</c>: what a field, measure or rule means.</summary>
internal static class DescribeCommand
{
    public static Command Create()
    {
        var name = new Argument<string?>("NAME")
        {
            Description = "A field, measure, derived column, flag or rule; without it all are listed.",
            Arity = ArgumentArity.ZeroOrOne
        };
        var command = new Command("describe", "Prints what a field, measure, derived column, flag or rule means, with source and example.")
        {
            name
        };
        command.SetAction(parsed => (int)Execute(parsed.GetValue(name), Console.Out));
        return command;
    }

    private static ExitCode Execute(string? name, TextWriter output)
    {
        if (name is null)
        {
            List(output);
            return ExitCode.Done;
        }

        var any = false;
        foreach (var field in FieldDictionary.Shipped.Fields.Where(field => field.Name == name)) any |= Print(output, field);
        foreach (var column in DerivedFile.Shipped.Where(column => column.Id == name)) any |= Print(output, column);
        foreach (var measure in MeasureCatalogue.Shipped.Where(measure => measure.Id == name)) any |= Print(output, measure);
        foreach (var rule in RuleFile.Shipped.Where(rule => rule.Id == name)) any |= Print(output, rule);
        foreach (var flag in FlagFile.Shipped.Where(flag => flag.Id == name)) any |= Print(output, flag);
        foreach (var section in SectionFile.Shipped.Where(section => section.Id == name)) any |= Print(output, section);
        if (!any && Titles.Shipped.Knows(name)) any = Print(output, name);
        if (any) return ExitCode.Done;
        var known = FieldDictionary.Shipped.Fields.Select(field => field.Name)
            .Concat(MeasureCatalogue.Shipped.Select(measure => measure.Id))
            .Concat(RuleFile.Shipped.Select(rule => rule.Id)).Concat(FlagFile.Shipped.Select(flag => flag.Id))
            .Concat(SectionFile.Shipped.Select(section => section.Id)).Concat(Titles.Shipped.All.Select(column => column.Name));
        throw new Failure(ExitCode.Usage,
            $"nothing is called `{name}`{Nearest.Suggest(name, known)}; `{Tool.Name} describe` lists what there is");
    }

    private static void List(TextWriter output)
    {
        foreach (var (table, where) in Tables)
            Section(output, where, FieldDictionary.Shipped.Of(table).Select(field => (field.Name + (field.Core ? " *" : ""), field.Title)));
        output.WriteLine("  (* core)");
        Section(output, "columns from attempts: in conditions, strata and sections", Titles.Shipped.All
            .Where(column => Titles.Shipped.IsFromAttempts(column.Name) && !IsOfOneAttempt(column.Name)));
        Section(output, "derived columns: in conditions, strata and sections",
            DerivedFile.Shipped.Select(column => (column.Id, column.Title)));
        Section(output, "sections", SectionFile.Shipped.Select(section => (section.Id, section.Title)));
        Section(output, "measures", MeasureCatalogue.Shipped.Select(measure => (measure.Id, measure.Title)));
        Section(output, "flags", FlagFile.Shipped.Select(flag => (flag.Id, $"{Word(flag.Tier)}: {flag.Title}")));
        Section(output, "consistency rules", RuleFile.Shipped.Select(rule => (rule.Id, rule.Title.Length > 0 ? rule.Title : rule.Expect)));
    }

    /// <summary>Each table, and where the names of its fields are used.</summary>
    private static readonly (string Table, string Where)[] Tables =
    [
        (FieldDictionary.Procedure,
            "fields of a record: in mappings, conditions, strata and sections (of a list, a column a value: NAME_VALUE)"),
        (FieldDictionary.Attempt,
            "fields of an attempt: in mappings; as attempt1_NAME and attempt2_NAME in conditions, strata and sections"),
        (FieldDictionary.Trace, "fields of a trace: in mappings"),
    ];

    private static bool IsOfOneAttempt(string name) =>
        name.StartsWith("attempt1_", StringComparison.Ordinal) || name.StartsWith("attempt2_", StringComparison.Ordinal);

    private static void Section(TextWriter output, string title, IEnumerable<(string Name, string Text)> rows)
    {
        output.WriteLine($"{title}:");
        foreach (var (name, text) in rows) output.WriteLine($"  {name,-34} {text}");
    }

    private static bool Print(TextWriter output, Field field)
    {
        output.WriteLine($"field {field.Name} of table {field.Table}: {field.Title}");
        output.WriteLine($"  {field.Description}");
        Line(output, "type", field.Type switch
        {
            FieldType.YesNo => "yes or no",
            FieldType.Set => "any number of the allowed values",
            _ => field.Type.ToString().ToLowerInvariant()
        });
        Line(output, "unit", field.Unit);
        Line(output, "allowed", string.Join(", ", field.Allowed.Select(value => $"{value} ({field.TitleOf(value)})")));
        Line(output, "possible", Range(field.Hard, field.Type));
        Line(output, "usual", Range(field.Plausible, field.Type));
        Line(output, "missing", string.Join(", ", field.Missing.Select(token => token.Word.Length == 0 ? "a blank cell" : token.Word)));
        Line(output, "identifying", field.Identifying switch
        {
            Identifying.Quasi => "in combination: coarsened in whatever leaves the department",
            Identifying.DirectRisk => "may identify a person: not read",
            _ => "no"
        });
        Line(output, "mapping", Mapping(field));
        return true;
    }

    // The line to start from in a mapping file.
    private static string? Mapping(Field field)
    {
        if (field.Identifying == Identifying.DirectRisk) return null;
        if (FieldDictionary.IsFromTraces(field)) return "none: worked out from a source of traces";
        var rest = field.Type switch
        {
            FieldType.Date => ", date: dd/MM/yyyy",
            FieldType.Time => ", time: HH:mm",
            FieldType.YesNo => ", codes: {\"Y\": yes, \"N\": no}",
            FieldType.Code or FieldType.Set => $", codes: {{\"your word\": {field.Allowed[0]}}}",
            _ => "",
        };
        return $"{field.Name}: {{column: \"your heading\"{rest}}}";
    }

    private static bool Print(TextWriter output, DerivedColumn column)
    {
        output.WriteLine($"derived column {column.Id}: {column.Title}");
        Line(output, "values", string.Join(", ", Titles.Shipped.Order(column.Id)
            .Select(value => $"{value} ({Titles.Shipped.Level(column.Id, value)})")));
        Line(output, "unit", column.Unit);
        Line(output, "is", column.Sql);
        Line(output, "why", column.Why);
        return true;
    }

    /// <summary>A column of a list field, or one worked out from the attempts.</summary>
    private static bool Print(TextWriter output, string column)
    {
        output.WriteLine($"column {column}: {Titles.Shipped.Column(column)}");
        Line(output, "values", string.Join(", ", Titles.Shipped.Order(column)
            .Select(value => $"{value} ({Titles.Shipped.Level(column, value)})")));
        Line(output, "used in", "conditions, strata and sections");
        Line(output, "from", Titles.Shipped.IsFromAttempts(column)
            ? "the rows of the attempts"
            : "one value of a list field of the record");
        return true;
    }

    private static bool Print(TextWriter output, SectionDefinition section)
    {
        output.WriteLine($"section {section.Id}: {section.Title}");
        Line(output, "question", section.Question);
        Line(output, "note", section.Note);
        Line(output, "place", $"{section.Place}".ToLowerInvariant());
        Line(output, "measures", string.Join(", ", section.Measures));
        Line(output, "strata", string.Join(", ", section.Strata));
        Line(output, "among", section.Among);
        if (section.Compare is { } compare)
            Line(output, "compared by", compare.By + (compare.Within.IsEmpty ? "" : $", within {string.Join(", ", compare.Within)}"));
        Line(output, "trend", section.Trend);
        Line(output, "drawing", section.Drawing);
        Line(output, "agreement", string.Join(", ", section.Agreement.Select(pair => pair.Id)));
        return true;
    }

    private static bool Print(TextWriter output, Measure measure)
    {
        output.WriteLine($"measure {measure.Id}: {measure.Title}");
        Line(output, "group", measure.Group == MeasureGroup.Other ? null : measure.Group.ToString().ToLowerInvariant());
        Line(output, "eligible", measure.Eligible);
        Line(output, "met", measure.Met);
        Line(output, "value", measure.Value);
        Line(output, "unit", measure.Unit);
        Line(output, "missing", measure.Missing == MissingRule.NotDone
            ? "an unknown answer counts as not done; the known-only reading is counted too"
            : "an unknown answer is left out and counted as missing");
        if (measure.Settled == Settled.Any) Line(output, "settled", "either part alone settles it (alternative evidence)");
        Line(output, "better", measure.Direction switch { Direction.Up => "higher", Direction.Down => "lower", _ => "neither: context" });
        Line(output, "why", measure.Why);
        Line(output, "source", measure.Source);
        Line(output, "source says", measure.AsPublished);
        Line(output, "difference", measure.Difference);
        Line(output, "published", measure.Published);
        foreach (var example in measure.Examples)
            Line(output, "example",
                $"{Given(example.Given)} "
                    + $"-> {Word(example.Expect)}");
        return true;
    }

    private static bool Print(TextWriter output, ConsistencyRule rule)
    {
        output.WriteLine($"consistency rule {rule.Id}{(rule.Title.Length > 0 ? ": " + rule.Title : "")}");
        Line(output, "expects", rule.Expect);
        Line(output, "a breach", rule.Severity switch
        {
            Severity.Refuse => "quarantines the row",
            Severity.Blank => "makes missing: " + string.Join(", ", rule.Blanks),
            _ => "is reported; the values stay"
        });
        Line(output, "why", rule.Why);
        Line(output, "source", rule.Source);
        foreach (var example in rule.Examples)
            Line(output, "example",
                $"{Given(example.Given)} "
                    + $"-> {example.Expect.ToString().ToLowerInvariant()}");
        return true;
    }

    private static string Given(IEnumerable<KeyValuePair<string, string>> values) => string.Join(", ",
        values.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => $"{pair.Key}={pair.Value}"));

    private static string Word(Answer answer) =>
        answer switch { Answer.Met => "met", Answer.NotMet => "not met", Answer.Missing => "missing", _ => "not eligible" };

    private static string Word(Tier tier) =>
        tier switch { Tier.One => "tier 1", Tier.Two => "tier 2", Tier.Three => "tier 3", Tier.Learning => "learning", _ => "data" };

    private static bool Print(TextWriter output, Flag flag)
    {
        output.WriteLine($"flag {flag.Id}: {flag.Title}");
        Line(output, "tier", Word(flag.Tier));
        Line(output, "when", flag.When);
        Line(output, "shows", string.Join(", ", flag.Shows));
        Line(output, "counts as harm", string.Join(", ", flag.Harm));
        Line(output, "standards", string.Join(", ", flag.Standards));
        Line(output, "why", flag.Why);
        Line(output, "source", flag.Source);
        foreach (var example in flag.Examples)
            Line(output, "example",
                $"{Given(example.Given)} "
                    + $"-> {example.Expect.ToString().ToLowerInvariant()}");
        return true;
    }

    private static void Line(TextWriter output, string word, string? text)
    {
        if (!string.IsNullOrWhiteSpace(text)) output.WriteLine($"  {word + ":",-13}{text.ReplaceLineEndings(" ").Trim()}");
    }

    private static string? Range(Interval? range, FieldType type)
    {
        if (range is not var (low, high)) return null;
        string Shown(decimal value) => type == FieldType.Date
            ? DateOnly.FromDayNumber((int)value).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)
            : value.ToString("0.####", CultureInfo.InvariantCulture);
        return $"{(low is { } l ? Shown(l) : "any")} to {(high is { } h ? Shown(h) : "any")}";
    }
}
