using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Ingestion.Formats;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Records;

namespace Outcomes.Cli.Drafting;

/// <summary>A column that must leave the export, and why.</summary>
public sealed record RefusedColumn(int Column, string Heading, string Reason);

/// <summary>A drafted mapping.</summary>
/// <param name="Text">The file.</param>
/// <param name="Mapped">Fields that have a column, a constant or a derivation, or half a one: a question stands in it.</param>
/// <param name="Refused">Columns that are not mapped because they may identify a person.</param>
/// <param name="NotMapped">Headings without any proposal.</param>
public sealed record MappingDraft(
    DraftText Text, ImmutableArray<Field> Mapped, ImmutableArray<RefusedColumn> Refused, ImmutableArray<string> NotMapped)
{
    /// <summary>Fields that a question proposes for some column.</summary>
    public ImmutableArray<string> Asked { get; init; } = [];

    /// <summary>Drafts the mapping of one export.</summary>
    public static MappingDraft Of(
        DraftSource source, string file, List<Question> questions, FieldDictionary dictionary, Vocabulary vocabulary)
    {
        var number = DecimalForm.Of(source.Sample with { Headings = ShownName.OfHeadings(source.Sample.Headings) });
        var (sample, rowsAreAttempts) = (source.Sample with { DecimalComma = number.Comma }, source.Attempts);
        var text = new DraftText(file, questions);
        var wide = rowsAreAttempts
            ? null
            : WideGroups.Find([.. sample.Headings.Select(heading => ShownName.Hides(heading) ? "" : heading)]);
        var inAttempts = wide?.Words.SelectMany(word => word.Columns).ToHashSet() ?? [];
        var columns = Enumerable.Range(0, sample.Headings.Length).Where(column => !inAttempts.Contains(column))
            .Select(column => ColumnProfile.Of(sample, sample.Headings[column], column)).ToList();
        var refused = columns.Select(column => (column, Reason: Suspicion.Of(column, vocabulary))).Where(pair => pair.Reason is not null)
            .Select(pair => new RefusedColumn(pair.column.First + 1, Shown(pair.column), pair.Reason!)).ToImmutableArray();
        var repeated = sample.Headings.GroupBy(heading => heading).Where(group => group.Count() > 1).Select(group => group.Key).ToHashSet();
        var open = columns.Where(column => column.Heading.Length > 0 && !repeated.Contains(column.Heading)
            && !refused.Any(other => other.Column == column.First + 1)).ToList();
        var table = rowsAreAttempts ? FieldDictionary.Attempt : FieldDictionary.Procedure;
        ImmutableArray<Proposal> proposals = [.. Proposer.Propose(open, Mappable(dictionary, table), vocabulary)
            .Select(proposal => rowsAreAttempts ? proposal : WithoutSharedKey(proposal))];
        var writer = new EntryDraft(text, vocabulary, sample.Rows.Length);
        foreach (var proposal in proposals)
            if (proposal.Field is not null) writer.Learn(proposal.Field, proposal.Column);

        Head(text, source.Path, sample, refused);
        TableDraft.Write(text, sample, rowsAreAttempts, number, source.OtherSheets);
        text.Line("columns:");
        AskForKeys(text, proposals, rowsAreAttempts);
        var mapped = new List<Field>();
        var derived = new List<string>();
        foreach (var proposal in proposals.Where(proposal => proposal.Considered.Length > 0))
        {
            if (proposal.Field is { Name: "event_time" } && DateForm.OfTimes(proposal.Column) is { } pattern)
                derived.Add($"  hour_band: {{from_time: {DraftText.Quoted(proposal.Column.Heading)}, "
                    + $"time: {DraftText.Quoted(pattern)}}}   # the exact time is not kept");
            else if (proposal.Field is null) { writer.Doubt("  ", proposal); continue; }
            else writer.Entry("  ", proposal.Field, proposal.Column, DraftText.Quoted(proposal.Column.Heading));
            if (proposal.Field.Name == "age_years")
                text.Line($"  # To keep the age group alone, put in place of the line above, under `derive:`: age_band: "
                    + $"{{from_age: {DraftText.Quoted(proposal.Column.Heading)}}}");
            mapped.Add(proposal.Field);
        }

        if (wide is not null) mapped.AddRange(Attempts(writer, text, sample, wide, dictionary, vocabulary));
        Derive(text, derived, mapped, proposals, dictionary);
        if (!rowsAreAttempts) Constants(text, mapped, proposals);
        var notMapped = proposals.Where(proposal => proposal.Considered.Length == 0).Select(proposal => proposal.Column.Heading)
            .Concat(repeated.Where(heading => !ShownName.Hides(heading))).ToImmutableArray();
        foreach (var heading in notMapped)
            text.Line($"# Not mapped: {DraftText.Quoted(heading)} ({Why(heading)})");
        return new MappingDraft(text, [.. mapped.Distinct()], refused, notMapped)
        {
            Asked = [.. proposals.Where(proposal => proposal.Field is null).SelectMany(proposal => proposal.Considered)
                .Select(candidate => candidate.Field.Name).Distinct()],
        };

        string Why(string heading) => repeated.Contains(heading)
            ? "several columns have this heading; rename them in the export"
            : Nearest(heading, Mappable(dictionary, table), vocabulary);
    }

    // A heading that is somebody's identifier is named by its place.
    private static string Shown(ColumnProfile column) =>
        ShownName.Hides(column.Heading) ? string.Create(CultureInfo.InvariantCulture, $"column {column.First + 1}") : column.Heading;

    // A key that several rows share is none.
    private static Proposal WithoutSharedKey(Proposal proposal) =>
        proposal.Field?.Name == "record_id" && !proposal.Column.TellsRowsApart ? proposal with { Field = null } : proposal;

    private static void Head(DraftText text, string path, ExportSample sample, ImmutableArray<RefusedColumn> refused)
    {
        text.Line($"# Drafted from {Path.GetFileName(path)}. Left: the field (`outcomes describe FIELD` says what it is). "
            + $"Right: your column.");
        text.Line("# Lines that begin with # QUESTION need you: answer by removing the # of the line that is right, "
            + "or by writing your own.");
        foreach (var column in refused)
            text.Line(string.Create(CultureInfo.InvariantCulture,
                $"# TAKE OUT of the export: column {column.Column}, {DraftText.Quoted(column.Heading)}: {column.Reason}."));
        if (sample.Truncated)
            text.Line(string.Create(CultureInfo.InvariantCulture, $"# Only the first {sample.Rows.Length} rows were looked at."));
    }

    private static void AskForKeys(DraftText text, ImmutableArray<Proposal> proposals, bool rowsAreAttempts)
    {
        bool Has(string field) => proposals.Any(proposal => proposal.Field?.Name == field
            || (proposal.Field is null && proposal.Considered.Any(candidate => candidate.Field.Name == field)));
        if (!Has("record_id"))
        {
            string[] keys = rowsAreAttempts ? [] : [.. proposals.Where(proposal => proposal.Field is null && proposal.Column.TellsRowsApart)
                .Select(proposal => $"record_id: {{column: {DraftText.Quoted(proposal.Column.Heading)}}}")];
            text.Ask("  ", keys.Length == 0
                ? "which column is the key of a record? It must differ from row to row and must not be a hospital number; "
                    + "if there is none, add one to the export."
                : "is this the key of a record: a random or running number that is not a hospital number?",
                keys.Length == 0 ? ["record_id: {column: \"\"}"] : keys);
        }

        if (!rowsAreAttempts && !Has("event_date")) AskForDate(text, proposals);
        if (rowsAreAttempts && !Has("attempt_no"))
            text.Ask("  ", "which column numbers the attempts of a record?", "attempt_no: {column: \"\"}");
    }

    private static void AskForDate(DraftText text, ImmutableArray<Proposal> proposals)
    {
        string[] dates = [.. proposals.Where(proposal => proposal.Field is null)
            .SelectMany(proposal => DateForm.OfDates(proposal.Column) is { } form
                ? form.Either.Prepend(form.Pattern).OfType<string>().Select(
                    pattern => $"event_date: {{column: {DraftText.Quoted(proposal.Column.Heading)}, date: {DraftText.Quoted(pattern)}}}")
                : [])];
        text.Ask("  ", "which column is the date of the procedure, and how is it written?",
            dates.Length > 0 ? dates : ["event_date: {column: \"\", date: dd/MM/yyyy}"]);
    }

    private static List<Field> Attempts(
        EntryDraft writer, DraftText text, ExportSample sample, WideGroups wide, FieldDictionary dictionary, Vocabulary vocabulary)
    {
        var columns = wide.Words.Select(word => ColumnProfile.Of(sample, word.Word, [.. word.Columns])).ToList();
        var fields = dictionary.Of(FieldDictionary.Attempt).Where(field => !Keys.IsKey(field)).ToList();
        var proposals = Proposer.Propose(columns, fields, vocabulary);
        text.Line("attempts:");
        text.Line($"  wide: {DraftText.Quoted(wide.Pattern)}");
        text.Line("  columns:");
        foreach (var proposal in proposals)
            if (proposal.Field is not null)
                writer.Entry("    ", proposal.Field, proposal.Column, DraftText.Quoted(proposal.Column.Heading));
            else if (proposal.Considered.Length > 0) writer.Doubt("    ", proposal);
            else text.Line(
                $"    # Not mapped: {DraftText.Quoted(proposal.Column.Heading)} ({Nearest(proposal.Column.Heading, fields, vocabulary)})");
        return [.. proposals.Select(proposal => proposal.Field).OfType<Field>()];
    }

    private static void Derive(
        DraftText text, List<string> derived, List<Field> mapped, ImmutableArray<Proposal> proposals, FieldDictionary dictionary)
    {
        var date = proposals.FirstOrDefault(proposal => proposal.Field?.Name == "event_date");
        if (derived.Count == 0 && !mapped.Exists(field => field.Name == "hour_band") && date is not null
            && DateForm.OfDates(date.Column)?.Pattern is { } pattern && pattern.Contains("HH", StringComparison.Ordinal))
            derived.Add($"  hour_band: {{from_time: {DraftText.Quoted(date.Column.Heading)}, "
                + $"time: {DraftText.Quoted(pattern)}}}   # the exact time is not kept");
        if (mapped.Exists(field => field.Name == "hour_band")) derived.Clear();
        if (derived.Count == 0) return;
        text.Line("derive:");
        foreach (var line in derived) text.Line(line);
        mapped.Add(dictionary.Find(FieldDictionary.Procedure, "hour_band")!);
    }

    private static void Constants(DraftText text, List<Field> mapped, ImmutableArray<Proposal> proposals)
    {
        bool Has(string name) => mapped.Exists(field => field.Name == name);
        text.Line("constants:");
        if ((Has("spo2_min") || Has("sbp_min")) && !Has("observation_window"))
            text.Ask("  ", "until when were the lowest values watched, from induction: 2, 30 or 60 minutes, or otherwise?",
                "observation_window: to_2min", "observation_window: to_30min", "observation_window: to_60min", "observation_window: other");
        if (!Has("etco2_first") || Has("etco2_unit")) return;
        var column = proposals.First(proposal => proposal.Field?.Name == "etco2_first").Column;
        var inKpa = (double)column.Numbers.Where(number => number.Value is >= 1.5 and <= 10).Sum(number => number.Rows)
            / Math.Max(1, column.Filled);
        var inMmHg =
            (double)column.Numbers.Where(number => number.Value is >= 14 and <= 90).Sum(number => number.Rows) / Math.Max(1, column.Filled);
        var unit = Headings.Unit(column.Heading) switch
        {
            "kPa" => "kPa",
            "mm[Hg]" => "mmHg",
            _ => inKpa >= 0.8 && inMmHg <= 0.05 ? "kPa" : inMmHg >= 0.8 && inKpa <= 0.05 ? "mmHg" : null
        };
        if (unit is not null)
            text.Line($"  etco2_unit: {unit}   # by {(Headings.Unit(column.Heading) is null ? "the values" : "the heading")} "
                + $"of {DraftText.Quoted(column.Heading)}");
        else text.Ask("  ", $"is {DraftText.Quoted(column.Heading)} in kPa or in mmHg? If both occur, add a column that says which.",
            "etco2_unit: kPa", "etco2_unit: mmHg");
    }

    private static string Nearest(string heading, IEnumerable<Field> fields, Vocabulary vocabulary)
    {
        string[] near = [.. fields.Where(field => field.Identifying != Identifying.DirectRisk)
            .Select(field => (field.Name, Likeness: vocabulary.Likeness(heading, field))).Where(pair => pair.Likeness >= 0.3)
            .OrderByDescending(pair => pair.Likeness).ThenBy(pair => pair.Name, StringComparer.Ordinal).Take(3).Select(pair => pair.Name)];
        if (FieldDictionary.Shipped.Of(FieldDictionary.Attempt)
            .FirstOrDefault(field => !fields.Contains(field) && vocabulary.Likeness(heading, field) >= 0.85) is { } ofAttempt)
            return $"it looks like {ofAttempt.Name} of an attempt; if it is that of the first, "
                + $"call the column attempt1_{ofAttempt.Name} in the export and see `attempts` in docs/mapping.md";
        return near.Length == 0 ? "no field is called anything like it" : "considered, by its name: " + string.Join(", ", near);
    }

    // What comes from traces is never mapped, so it is never proposed.
    private static IEnumerable<Field> Mappable(FieldDictionary dictionary, string table) =>
        dictionary.Of(table).Where(field => !FieldDictionary.IsFromTraces(field));
}
