using System.Collections.Immutable;
using Outcomes.Ingestion.Parsing;
using Outcomes.Records;

namespace Outcomes.Cli.Drafting;

/// <summary>A field that a column may hold.</summary>
/// <param name="Field">The field.</param>
/// <param name="Name">How well the heading names it, 0 to 1.</param>
/// <param name="Fit">The share of the cells that can be read as it, 0 to 1.</param>
public sealed record Candidate(Field Field, double Name, double Fit)
{
    public double Score => Name * (0.7 + (0.3 * Fit));
}

/// <summary>What is proposed for a column.</summary>
/// <param name="Column">The column.</param>
/// <param name="Field">The field; null when none is clear.</param>
/// <param name="Considered">Fields that were considered, best first; a question names them.</param>
public sealed record Proposal(ColumnProfile Column, Field? Field, ImmutableArray<Candidate> Considered);

/// <summary>Proposes a field for each column, by its heading and by what it holds. A doubt is left open, never guessed.</summary>
public static class Proposer
{
    private const double Worth = 0.5;
    private const double Clear = 0.85;

    // A heading that is one of the field's own names, over a few words that are not its values: worth a question, and no more.
    private const double Exact = 0.999;
    private const int FewWords = 12;

    private const double ClearWithCodes = 0.6;
    private const double AllCells = 0.95;
    private const double Margin = 0.08;
    private const int Tellers = 3;

    /// <summary>Proposals for columns of one table, in the columns' order.</summary>
    public static ImmutableArray<Proposal> Propose(IReadOnlyList<ColumnProfile> columns, IEnumerable<Field> fields, Vocabulary vocabulary)
    {
        Field[] offered = [.. fields.Where(field => field.Identifying != Identifying.DirectRisk)];
        var candidates = columns.Select(column => Candidates(column, offered, vocabulary)).ToArray();
        var taken = new Dictionary<Field, int>();
        var given = new Field?[columns.Count];
        foreach (var (column, candidate) in candidates.SelectMany((list, column) => list.Select(candidate => (column, candidate)))
                     .OrderByDescending(pair => IsOwnName(columns[pair.column], pair.candidate.Field))
                     .ThenByDescending(pair => pair.candidate.Score).ThenBy(pair => pair.column).ThenBy(pair => pair.candidate.Field.Name,
                         StringComparer.Ordinal))
        {
            if (given[column] is not null || taken.ContainsKey(candidate.Field) || !IsClear(columns[column], candidate, vocabulary))
                continue;
            if (candidate.Fit >= AllCells && IsOwnName(columns[column], candidate.Field))
            {
                taken.Add(candidate.Field, column);
                given[column] = candidate.Field;
                continue;
            }

            // Its best field may have gone to another column: a second best is no answer, but a question.
            if (candidates[column][0].Score - candidate.Score >= Margin) continue;
            var rival = candidates[column].Where(other => other.Field != candidate.Field && !taken.ContainsKey(other.Field))
                .Select(other => other.Score).DefaultIfEmpty(0).Max();
            var claims = candidates.Where((list, other) => other != column && given[other] is null).SelectMany(list => list)
                .Where(other => other.Field == candidate.Field).Select(other => other.Score).DefaultIfEmpty(0).Max();
            if (candidate.Score - Math.Max(rival, claims) < Margin) continue;
            taken.Add(candidate.Field, column);
            given[column] = candidate.Field;
        }

        return [.. columns.Select((column, i) => new Proposal(column, given[i],
            [.. candidates[i].Where(candidate => candidate.Field == given[i] || !taken.ContainsKey(candidate.Field)).Take(3)]))];
    }

    /// <summary>The share of a column's cells that can be read as a field, 0 to 1; half where the column is empty.</summary>
    public static double Fit(ColumnProfile column, Field field, Vocabulary vocabulary)
    {
        if (column.Filled == 0) return 0.5;
        switch (field.Type)
        {
            case FieldType.Date:
                return DateForm.OfDates(column) is null ? 0 : 1;
            case FieldType.Time:
                return DateForm.OfTimes(column) is null ? 0 : 1;
            // Noughts and ones are answers, whatever the heading says: "vasopressor given" is no time.
            case FieldType.Integer or FieldType.Number when column.Words.Length == 2 && column.Words.All(word => word.Word is "0" or "1"):
                return 0.3;
            case FieldType.Integer or FieldType.Number:
                return (double)column.Numbers.Sum(number => number.Rows) / column.Filled is var share and >= 0.8
                    && InRange(column, field) >= 0.6 ? share : 0;
            case FieldType.Code or FieldType.YesNo or FieldType.Set:
                var table = CodeTable.Of(column, field, vocabulary);
                return table is { IsNumbered: true, Fit: < 0.6 } && field.Type != FieldType.Set
                    && table.Words.Length <= Math.Max(3, field.Allowed.Length + 1) ? 0.6 : table.Fit;
            default:
                return field.Name == "record_id" || column.Words.Length <= CodeTable.MostWords ? 1 : 0;
        }
    }

    // In any unit that converts to the field's.
    private static double InRange(ColumnProfile column, Field field)
    {
        if (field.Hard is not var (low, high)) return 1;
        var units = field.Unit is { } own ? (string[])[own, "s", "min", "1", "kPa", "m", "cm", "mm", "h"] : [];
        var rows = Math.Max(1, column.Numbers.Sum(number => number.Rows));
        return units.Select(unit => Units.Between(unit, field.Unit!)).OfType<(double Multiply, double Divide)>().DefaultIfEmpty((1, 1))
            .Max(factor => (double)column.Numbers
                .Where(number => number.Value * factor.Multiply / factor.Divide is var value && (low is null || value >= (double)low)
                    && (high is null || value <= (double)high)).Sum(number => number.Rows) / rows);
    }

    private static Candidate[] Candidates(ColumnProfile column, Field[] fields, Vocabulary vocabulary) =>
    [
        .. fields.Select(field => (Field: field, Name: Named(column.Heading, field, vocabulary))).Where(pair => pair.Name >= Worth)
            .Select(pair => new Candidate(pair.Field, pair.Name, Fit(column, pair.Field, vocabulary)))
            .Where(candidate => candidate.Fit >= 0.3 || IsNamedCode(column, candidate))
            .OrderByDescending(candidate => candidate.Score).ThenBy(candidate => candidate.Field.Name, StringComparer.Ordinal),
    ];

    // A unit in the heading speaks for the fields that are measured in it, and against all others.
    private static double Named(string heading, Field field, Vocabulary vocabulary)
    {
        var likeness = vocabulary.Likeness(heading, field);
        if (Headings.Unit(heading) is not { } unit || likeness < Worth || likeness > 0.999) return likeness;
        return field.Unit is { } own && Units.Between(unit, own) is not null ? Math.Min(1, likeness + 0.2) : likeness - 0.2;
    }

    // The dictionary's own word for a field, over cells that are its values, has no rivals.
    private static bool IsOwnName(ColumnProfile column, Field field) =>
        string.Equals(column.Heading, field.Name, StringComparison.OrdinalIgnoreCase);

    private static bool IsNamedCode(ColumnProfile column, Candidate candidate) =>
        candidate.Name >= Exact && candidate.Field.Type is FieldType.Code or FieldType.Set
            && column.Words.Length is > 0 and <= FewWords
            && column.Words.All(word => word.Rows >= CodeTable.FewestRows && !double.TryParse(word.Word, out _));

    // A name alone must be nearly the field's own; codes that are all the field's speak for a looser one.
    private static bool IsClear(ColumnProfile column, Candidate candidate, Vocabulary vocabulary)
    {
        if (column.Filled == 0) return false;
        if (candidate.Name >= Clear && candidate.Fit >= 0.5) return true;
        return candidate.Name >= ClearWithCodes && candidate.Fit >= 0.8 && candidate.Field.Type is FieldType.Code or FieldType.Set
            && CodeTable.Of(column, candidate.Field, vocabulary).Words.Count(word => word.Value is not null) >= Tellers;
    }
}
