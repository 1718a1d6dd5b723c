using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>Which source collects what, and what the pipeline assumes where it does not.</summary>
internal sealed class Collection
{
    private readonly Scope _scope;
    private readonly ImmutableDictionary<string, string> _assumed;

    public Collection(Scope scope, IReadOnlyList<StoredSource> sources, ImmutableDictionary<string, string> assume)
    {
        _scope = scope;
        Sources = [.. sources.OrderBy(source => source.Order)];
        RecordSources = [.. Sources.Where(source => !source.Records.IsEmpty)];
        _assumed = assume.ToImmutableDictionary(pair => pair.Key, pair => Assumed(pair.Key, pair.Value));
    }

    public ImmutableArray<StoredSource> Sources { get; }

    public ImmutableArray<StoredSource> RecordSources { get; }

    /// <summary>The SQL literal that stands in for a field no column gives.</summary>
    public string? Assumption(string field) => _assumed.GetValueOrDefault(field);

    /// <summary>The fields that a source would have to collect before it could give all of these columns; empty when it can.</summary>
    public ImmutableArray<string> Lacking(StoredSource source, IEnumerable<string> columns) =>
        [.. columns.SelectMany(name => Lacking(source, name)).Distinct().Order(StringComparer.Ordinal)];

    /// <summary>The fields among and behind these columns that are assumed for a source.</summary>
    public ImmutableArray<string> AssumedIn(StoredSource source, IEnumerable<string> columns) =>
        [.. Behind(columns).Where(column => column.Stored is { } stored && !source.ProcedureFields.Contains(stored.Field.Name)
            && _assumed.ContainsKey(stored.Field.Name))
            .Select(column => column.Stored!.Field.Name).Distinct().Order(StringComparer.Ordinal)];

    /// <summary>These columns and all that they are worked out from.</summary>
    public IEnumerable<ScopeColumn> Behind(IEnumerable<string> columns)
    {
        var found = new Dictionary<string, ScopeColumn>(StringComparer.Ordinal);
        foreach (var name in columns)
            Visit(name);
        return found.Values;

        void Visit(string name)
        {
            if (found.TryAdd(name, _scope.Get(name)) && found[name].Tree is { } tree)
                foreach (var inner in Expressions.Names(tree))
                    Visit(inner);
        }
    }

    public bool Collects(StoredSource source, string field) => source.ProcedureFields.Contains(field) || _assumed.ContainsKey(field);

    private IEnumerable<string> Lacking(StoredSource source, string name)
    {
        var column = _scope.Get(name);
        if (column.Stored is { } stored)
        {
            if (Collects(source, stored.Field.Name))
                return [];
            if (column.Derived is null)
                return [stored.Field.Name];
        }

        if (column.Rollup is { } rollup)
            return LackingAttempts(source, rollup);
        if (column.Derived is not { } derived)
            return [];
        var groups = derived.Needs.IsDefaultOrEmpty ? [Expressions.Names(column.Tree!)] : derived.Needs;
        return groups.Select(group => Lacking(source, group)).MinBy(lacking => lacking.Length)!;
    }

    private IEnumerable<string> LackingAttempts(StoredSource source, Rollup rollup)
    {
        var holders = Sources.Where(other => !other.Attempts.IsEmpty && (other.Order == source.Order || other.RowsAreAttempts)).ToArray();
        if (holders.Length == 0)
            return rollup.Columns.IsEmpty ? ["attempts"] : rollup.Columns.Select(column => $"attempts.{column.Field.Name}");
        return holders.Any(holder => rollup.Columns.All(column => holder.AttemptFields.Contains(column.Field.Name)))
            ? []
            : rollup.Columns.Where(column => !holders.Any(holder => holder.AttemptFields.Contains(column.Field.Name)))
                .Select(column => $"attempts.{column.Field.Name}");
    }

    private string Assumed(string name, string value)
    {
        var field = _scope.Dictionary.Find(FieldDictionary.Procedure, name)
            ?? throw new Failure(ExitCode.Definition, $"assume: no field is called `{name}`"
                + Nearest.Suggest(name, _scope.Dictionary.Of(FieldDictionary.Procedure).Select(f => f.Name)));
        return Literal(field, value) ?? throw new Failure(ExitCode.Definition, $"assume: `{value}` is no value of `{name}`"
            + (field.Allowed.IsEmpty ? "" : $"; its values are {string.Join(", ", field.Allowed)}"));
    }

    /// <summary>A value of a field, as a person writes it, as a SQL literal; null when it is none.</summary>
    public static string? Literal(Field field, string value) => field.Type switch
    {
        FieldType.YesNo => value switch { "yes" or "true" => "true", "no" or "false" => "false", _ => null },
        FieldType.Code => field.Allowed.Contains(value) ? Quote.Text(value) : null,
        FieldType.Text => Quote.Text(value),
        FieldType.Integer => int.TryParse(value, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var whole)
            ? whole.ToString(CultureInfo.InvariantCulture)
            : null,
        FieldType.Number => decimal.TryParse(value, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
            CultureInfo.InvariantCulture, out var number)
            ? number.ToString(CultureInfo.InvariantCulture)
            : null,
        FieldType.Date => DateOnly.TryParseExact(value, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _)
            ? $"DATE {Quote.Text(value)}"
            : null,
        FieldType.Time => TimeOnly.TryParseExact(value, "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out var time)
            ? ((time.Hour * 60) + time.Minute).ToString(CultureInfo.InvariantCulture)
            : null,
        _ => null,
    };
}
