using System.Globalization;
using Outcomes.Records;

namespace Outcomes.Cli.Drafting;

/// <summary>Writes one field's entry, with its questions where it has any.</summary>
internal sealed class EntryDraft(DraftText text, Vocabulary vocabulary, int rows)
{
    // What the file's own code words stand for, by allowed values: what one column writes often, its sisters may write seldom.
    private readonly Dictionary<string, SortedDictionary<string, string>> _shared = [];

    /// <summary>
    /// Learns the words that may be shown of a coded column; all columns of the same values get them, whether they hold them or not.
    /// </summary>
    public void Learn(Field field, ColumnProfile column)
    {
        if (field.Type is not (FieldType.Code or FieldType.YesNo or FieldType.Set)) return;
        var table = CodeTable.Of(column, field, vocabulary);
        if (!_shared.TryGetValue(Values(field), out var shared)) _shared[Values(field)] = shared = new(StringComparer.Ordinal);
        foreach (var word in table.Words.Where(word => word.Value is not null && word.Value != word.Word.Word
            && !word.Word.Word.All(char.IsAsciiDigit) && MayShow(table, word)))
            shared[word.Word.Word] = word.Value!;
    }

    /// <summary>The entry of a field whose column is clear; what is not clear about it is asked.</summary>
    public void Entry(string indent, Field field, ColumnProfile column, string heading)
    {
        switch (field.Type)
        {
            case FieldType.Date:
                Date(indent, field, column, heading);
                break;
            case FieldType.Code or FieldType.YesNo or FieldType.Set:
                Codes(indent, field, column, heading);
                break;
            case FieldType.Integer or FieldType.Number:
                Number(indent, field, column, heading);
                break;
            default:
                text.Line($"{indent}{field.Name}: {{{Inside(field, column, heading)}}}");
                break;
        }
    }

    /// <summary>A column for which several fields, or one not clearly enough, were considered: all as comments.</summary>
    public void Doubt(string indent, Proposal proposal)
    {
        var (column, considered) = (proposal.Column, proposal.Considered);
        if (column.Filled == 0)
        {
            text.Line($"{indent}# Not mapped: {DraftText.Quoted(column.Heading)} (it is empty; "
                + $"by its name it might be {considered[0].Field.Name})");
            return;
        }

        text.Ask(indent,
            $"what does column {DraftText.Quoted(column.Heading)} hold? "
                + $"Considered: {string.Join(", ", considered.Select(candidate => $"{candidate.Field.Name} ({candidate.Field.Title})"))}. "
                + $"If none, leave it.",
            [
                .. considered.Select(
                    candidate =>
                        $"{candidate.Field.Name}: {{{Inside(candidate.Field, column, DraftText.Quoted(column.Heading))}"
                            + Dates(candidate.Field, column)
                            + $"{KnownCodes(candidate.Field, column)}}}")]);
    }

    private static string Dates(Field field, ColumnProfile column) =>
        field.Type == FieldType.Date && DateForm.OfDates(column)?.Pattern is { } pattern ? $", date: {DraftText.Quoted(pattern)}" : "";

    private string KnownCodes(Field field, ColumnProfile column)
    {
        if (field.Type is not (FieldType.Code or FieldType.YesNo or FieldType.Set)) return "";
        var table = CodeTable.Of(column, field, vocabulary);
        string[] known = [.. table.Words.Where(word => word.Value is not null && word.Value != word.Word.Word && MayShow(table, word))
            .Select(word => $"{DraftText.Quoted(word.Word.Word)}: {DraftText.Quoted(word.Value!)}")];
        return known.Length == 0 ? "" : $", codes: {{{string.Join(", ", known)}}}";
    }

    private static string Inside(Field field, ColumnProfile column, string heading)
    {
        var missing = column.Missing.Where(token => field.Missing.All(known => known.Word != token.Word))
            .Select(token => $"{DraftText.Quoted(token.Word)}: {Reason(field, token.Reason)}")
            .Concat(Nines(field, column).Select(word => $"{DraftText.Quoted(word)}: not_recorded")).ToArray();
        return $"column: {heading}{(missing.Length == 0 ? "" : $", missing: {{{string.Join(", ", missing)}}}")}";
    }

    private static string Reason(Field field, MissingReason reason) => reason switch
    {
        MissingReason.Unrecordable => field.MayBeUnrecordable ? "unrecordable" : "unknown",
        MissingReason.NotRecorded => "not_recorded",
        MissingReason.NotApplicable => "not_applicable",
        MissingReason.Withheld => "withheld",
        _ => "unknown",
    };

    private void Date(string indent, Field field, ColumnProfile column, string heading)
    {
        var inside = Inside(field, column, heading);
        var form = DateForm.OfDates(column)!;
        if (form.Pattern is { } pattern) text.Line($"{indent}{field.Name}: {{{inside}, date: {DraftText.Quoted(pattern)}}}");
        else text.Ask(indent, form.Mixed
                ? $"column {heading} mixes day first and month first: some cells can only be the one, some only the other. "
                    + $"Mend the export; which should it be?"
                : $"is column {heading} written day first or month first? Every cell can be read both ways.",
            [.. form.Either.Select(either => $"{field.Name}: {{{inside}, date: {DraftText.Quoted(either)}}}")]);
    }

    // The unit that a hospital would use instead.
    private static string OtherUnit(Field field) =>
        field.Unit switch { "min" => "s", "s" => "min", "%" => "1", "mm[Hg]" => "kPa", "cm" => "m", "mm" => "cm", _ => "" };

    private void Number(string indent, Field field, ColumnProfile column, string heading)
    {
        var inside = Inside(field, column, heading);
        var unit = UnitForm.Of(column, field, vocabulary);
        if (unit.Doubt is { } doubt)
            text.Ask(indent, $"column {heading}: {doubt}", $"{field.Name}: {{{inside}}}   # in {field.Unit}", $"{field.Name}: {{{inside}, "
                + $"unit: {DraftText.Quoted(OtherUnit(field))}}}");
        else
            text.Line($"{indent}{field.Name}: {{{inside}{(unit.Unit is null ? "" : $", unit: {DraftText.Quoted(unit.Unit)}")}}}"
                + $"{(unit is { From: "distribution", Unit: not null } ? "   # the unit is read off the values" : "")}"
                + $"{(Nines(field, column).Any() ? "   # a number that no value can be is taken for a missing one" : "")}");
    }

    // A run of nines that no value can be, in several rows: whatever it stands for, it is no measurement, so nothing is lost by saying so.
    private static IEnumerable<string> Nines(Field field, ColumnProfile column) =>
        field.Type is FieldType.Integer or FieldType.Number && field.Hard is var (low, high)
            ? column.Words.Where(word => word.Rows >= CodeTable.FewestRows
                && word.Word is "99" or "999" or "9999" or "-9" or "-99" or "-999" or "-1")
                .Select(word => word.Word)
                .Where(word => decimal.Parse(word, CultureInfo.InvariantCulture) is var value && (value < low || value > high))
            : [];

    private void Codes(string indent, Field field, ColumnProfile column, string heading)
    {
        var table = CodeTable.Of(column, field, vocabulary);
        var allowed = field.Type == FieldType.YesNo ? "yes, no" : string.Join(", ", field.Allowed);
        var open = table.Words.Where(word => word.Value is null).ToArray();
        var shared = table.Words.Any(word => word.Value is not null && !word.Word.Word.All(char.IsAsciiDigit))
            ? _shared.GetValueOrDefault(Values(field))
            : null;
        bool Shown(CodeWord word) => MayShow(table, word) || shared?.ContainsKey(word.Word.Word) == true;
        var known = table.Words.Where(word => word.Value is not null && word.Value != word.Word.Word && Shown(word))
            .Select(word => (Word: word.Word.Word, Value: word.Value!))
            .Concat(shared?.Select(pair => (Word: pair.Key, pair.Value)) ?? [])
            .Where(pair => column.Missing.All(token => token.Word != pair.Word)).DistinctBy(pair => pair.Word).ToArray();
        var asked = open.Where(Shown).ToArray();
        var hidden = table.Words.Where(word => word.Value != word.Word.Word && !Shown(word)).ToArray();
        var inside = Inside(field, column, heading) + (field.Type == FieldType.Set && table.Separator is { } split and not ';'
            ? $", split: {DraftText.Quoted(split.ToString())}"
            : "");
        if (asked.Length == 0 && hidden.Length == 0)
        {
            var codes = known.Length == 0
                ? ""
                : $", codes: {{{string.Join(", ", known.Select(word =>
                    $"{DraftText.Quoted(word.Word)}: {DraftText.Quoted(word.Value)}"))}}}";
            text.Line($"{indent}{field.Name}: {{{inside}{codes}}}");
            return;
        }

        text.Line($"{indent}{field.Name}:");
        foreach (var part in inside.Split(", missing: "))
            text.Line($"{indent}  {(part.StartsWith('{') ? "missing: " : "")}"
                + $"{part.Replace(", split: ", $"\n{indent}  split: ", StringComparison.Ordinal)}");
        text.Line($"{indent}  codes:");
        foreach (var word in known) text.Line($"{indent}    {DraftText.Quoted(word.Word)}: {DraftText.Quoted(word.Value)}");
        if (asked.Length > 0)
        {
            var words = string.Join(", ", asked.Select(word => string.Create(CultureInfo.InvariantCulture,
                $"{DraftText.Quoted(word.Word.Word)} ({word.Word.Rows} of {rows} rows)")));
            text.Ask(indent + "    ", $"column {heading}: what {(asked.Length == 1 ? "does" : "do")} {words} stand for? One of: {allowed}; "
                + $"or, where there is no value: not_recorded, unknown, withheld, not_applicable.",
                [.. asked.Select(word => $"{DraftText.Quoted(word.Word.Word)}: ")]);
        }

        if (hidden.Length > 0)
            text.Ask(indent + "    ", string.Create(CultureInfo.InvariantCulture, $"column {heading}: {hidden.Length} more word(s), "
                + $"too rare to be shown here (lines {string.Join(", ", hidden.Take(5).Select(word => word.Word.Line))}): "
                + $"add what they stand for, or correct the export. One of: {allowed}."));
    }

    private static string Values(Field field) => field.Type == FieldType.YesNo ? "yes_no" : string.Join(',', field.Allowed);

    // Only of a column that is a code list beyond doubt, and only words that cannot be about one patient.
    private bool MayShow(CodeTable table, CodeWord word) =>
        (table.IsNumbered || table.Fit >= 0.5) && word.Word.Rows >= CodeTable.FewestRows && Suspicion.MayShow(word.Word.Word, vocabulary);
}
