using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>
/// What people read in place of the names of fields and derived columns and of their values: the one source for every page, chart and
/// list. A name that no definition gives a title keeps its own words.
/// </summary>
public sealed class Titles
{
    private static readonly ImmutableArray<string> YesNo = ["yes", "no"];

    private readonly Dictionary<string, Entry> _entries = new(StringComparer.Ordinal);

    private readonly Dictionary<string, string> _ofAttempts = new(StringComparer.Ordinal);

    private Titles(FieldDictionary dictionary, IEnumerable<DerivedColumn> derived)
    {
        foreach (var rollup in Rollups.Of(dictionary))
            _entries[rollup.Name] = new(rollup.Title, rollup.Columns is [{ Value: null } column] ? column.Field : null)
            {
                Order = rollup.SqlType == "BOOLEAN" ? YesNo : [],
                FromAttempts = true,
            };
        foreach (var field in dictionary.Of(FieldDictionary.Attempt))
            _ofAttempts[$"attempts.{field.Name}"] = $"{field.Title} (attempts)";
        foreach (var column in dictionary.Of(FieldDictionary.Procedure).SelectMany(field => Records.Column.Of(field)))
            _entries[column.Name] = new(column.Title, column.Value is null ? column.Field : null)
            {
                Order = column.SqlType == "BOOLEAN" ? YesNo : [],
            };
        foreach (var column in derived)
        {
            // A column that only renames another one has its values.
            var of = _entries.GetValueOrDefault(column.Id) ?? _entries.GetValueOrDefault(column.Sql.Trim());
            _entries[column.Id] = new(_entries.GetValueOrDefault(column.Id)?.Title ?? column.Title, of?.Field)
            {
                Unit = column.Unit,
                Values = column.Values,
                Order = !column.Order.IsEmpty ? column.Order : column.Type == DerivedType.YesNo ? YesNo : of?.Field?.Allowed ?? [],
            };
        }
    }

    /// <summary>The titles of the fields that travel with the tool.</summary>
    public static Titles Shipped { get; } = new(FieldDictionary.Shipped, DerivedFile.Shipped);

    /// <summary>Every name with its title, by name.</summary>
    public IEnumerable<(string Name, string Title)> All =>
        _entries.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => (pair.Key, pair.Value.Title));

    /// <summary>The titles of a pipeline's own fields and columns too.</summary>
    public static Titles Of(DefinitionSet definitions)
    {
        ArgumentNullException.ThrowIfNull(definitions);
        return new(definitions.Dictionary, definitions.Derived);
    }

    /// <summary>True where conditions and strata may use the name.</summary>
    public bool Knows(string name) => _entries.ContainsKey(name);

    /// <summary>True for a column that is worked out from the rows of the attempts.</summary>
    public bool IsFromAttempts(string name) => _entries.GetValueOrDefault(name) is { FromAttempts: true };

    /// <summary>The heading of a field, a derived column, or a column worked out from the attempts: <c>Intubation attempts</c>.</summary>
    public string Column(string name) => _entries.GetValueOrDefault(name)?.Title is { Length: > 0 } title ? title
        : _ofAttempts.GetValueOrDefault(name) ?? Readable.Words(name);

    /// <summary>A value as people read it: <c>Intensive care</c>.</summary>
    /// <param name="name">The field or column.</param>
    /// <param name="value">One of its values; <c>yes</c> or <c>no</c> for a yes/no column.</param>
    public string Level(string name, string value)
    {
        ArgumentNullException.ThrowIfNull(value);
        return _entries.GetValueOrDefault(name) is not { } entry ? Readable.Words(value)
            : entry.Values.GetValueOrDefault(value) ?? entry.Field?.TitleOf(value) ?? Readable.Words(value);
    }

    /// <summary>A value of an attempt as people read it.</summary>
    /// <param name="field">The attempt's field.</param>
    /// <param name="value">One of its values.</param>
    public string OfAttempt(string field, string value) => Level($"attempt1_{field}", value);

    /// <summary>UCUM unit of a number; empty for none.</summary>
    public string Unit(string name) => _entries.GetValueOrDefault(name)?.Unit ?? "";

    /// <summary>The values of a column in the order of printing; empty where none is declared.</summary>
    public ImmutableArray<string> Order(string name) => _entries.GetValueOrDefault(name) is not { } entry ? []
        : entry.Order.IsEmpty ? entry.Field?.Allowed ?? [] : entry.Order;

    private sealed record Entry(string Title, Field? Field)
    {
        public string Unit { get; init; } = Field?.Unit ?? "";

        public ImmutableDictionary<string, string> Values { get; init; } = ImmutableDictionary<string, string>.Empty;

        public ImmutableArray<string> Order { get; init; } = [];

        public bool FromAttempts { get; init; }
    }
}
