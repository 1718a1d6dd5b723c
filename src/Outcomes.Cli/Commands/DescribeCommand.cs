using System.CommandLine;
using System.Globalization;
using Outcomes.Cli.Output;
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
        if (any) return ExitCode.Done;
        var known = FieldDictionary.Shipped.Fields.Select(field => field.Name)
            .Concat(MeasureCatalogue.Shipped.Select(measure => measure.Id))
            .Concat(RuleFile.Shipped.Select(rule => rule.Id)).Concat(FlagFile.Shipped.Select(flag => flag.Id))
            .Concat(DerivedFile.Shipped.Select(column => column.Id));
        throw new Failure(ExitCode.Usage,
            $"nothing is called `{name}`{Nearest.Suggest(name, known)}; `{Tool.Name} describe` lists what there is");
    }

    private static void List(TextWriter output)
    {
        foreach (var table in (string[])[FieldDictionary.Procedure, FieldDictionary.Attempt, FieldDictionary.Trace])
            Section(output, $"fields of a {(table == FieldDictionary.Procedure ? "record" : table)}",
                FieldDictionary.Shipped.Of(table).Select(field => (field.Name + (field.Core ? " *" : ""), field.Title)));
        output.WriteLine("  (* core)");
        Section(output, "derived columns", DerivedFile.Shipped.Select(column => (column.Id, column.Why)));
        Section(output, "measures", MeasureCatalogue.Shipped.Select(measure => (measure.Id, measure.Title)));
        Section(output, "flags", FlagFile.Shipped.Select(flag => (flag.Id, $"{Word(flag.Tier)}: {flag.Title}")));
        Section(output, "consistency rules", RuleFile.Shipped.Select(rule => (rule.Id, rule.Title.Length > 0 ? rule.Title : rule.Expect)));
    }

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
        Line(output, "allowed", string.Join(", ", field.Allowed));
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
        output.WriteLine($"derived column {column.Id}");
        Line(output, "is", column.Sql);
        Line(output, "why", column.Why);
        return true;
    }

    private static bool Print(TextWriter output, Measure measure)
    {
        output.WriteLine($"measure {measure.Id}: {measure.Title}");
        Line(output, "eligible", measure.Eligible);
        Line(output, "met", measure.Met);
        Line(output, "value", measure.Value);
        Line(output, "missing", measure.Missing == MissingRule.NotDone
            ? "an unknown answer counts as not done; the known-only reading is counted too"
            : "an unknown answer is left out and counted as missing");
        if (measure.Settled == Settled.Any) Line(output, "settled", "either part alone settles it (alternative evidence)");
        Line(output, "better", measure.Direction switch { Direction.Up => "higher", Direction.Down => "lower", _ => "neither: context" });
        Line(output, "why", measure.Why);
        Line(output, "source", measure.Source);
        Line(output, "published", measure.Published);
        foreach (var example in measure.Examples)
            Line(output, "example",
                $"{string.Join(", ", example.Given.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => $"{pair.Key}={pair.Value}"))} "
                    + $"-> {example.Expect switch { Answer.Met => "met", Answer.NotMet => "not met", Answer.Missing => "missing", _ => "not eligible" }}");
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
                $"{string.Join(", ", example.Given.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => $"{pair.Key}={pair.Value}"))} "
                    + $"-> {example.Expect.ToString().ToLowerInvariant()}");
        return true;
    }

    private static string Word(Tier tier) =>
        tier switch { Tier.One => "tier 1", Tier.Two => "tier 2", Tier.Three => "tier 3", Tier.Learning => "learning", _ => "data" };

    private static bool Print(TextWriter output, Flag flag)
    {
        output.WriteLine($"flag {flag.Id}: {flag.Title}");
        Line(output, "tier", Word(flag.Tier));
        Line(output, "when", flag.When);
        Line(output, "shows", string.Join(", ", flag.Shows));
        Line(output, "standards", string.Join(", ", flag.Standards));
        Line(output, "why", flag.Why);
        Line(output, "source", flag.Source);
        foreach (var example in flag.Examples)
            Line(output, "example",
                $"{string.Join(", ", example.Given.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => $"{pair.Key}={pair.Value}"))} "
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
