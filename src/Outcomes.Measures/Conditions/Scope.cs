using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Measures.Conditions;

/// <summary>
/// A name that conditions may use. A derived column and a local field may share one: the field wins where it is collected.
/// </summary>
/// <param name="Name">The name.</param>
/// <param name="SqlType">What it holds.</param>
internal sealed record ScopeColumn(string Name, string SqlType)
{
    /// <summary>The stored column, when a field of the procedure table gives it.</summary>
    public Column? Stored { get; init; }

    public Rollup? Rollup { get; init; }

    public DerivedColumn? Derived { get; init; }

    /// <summary>The SQL tree of a derived column.</summary>
    public Expression? Tree { get; init; }

    /// <summary>The values it may take; empty when not coded.</summary>
    public ImmutableArray<string> Allowed { get; init; } = [];

    public Kind Kind => SqlType switch
    {
        "BOOLEAN" => Kind.YesNo,
        "INTEGER" or "DOUBLE" => Kind.Number,
        "DATE" => Kind.Date,
        _ => Kind.Text,
    };

    /// <summary>True when it stands in the records before any derived column is worked out.</summary>
    public bool IsBase => Derived is null;
}

/// <summary>Every name that conditions may use, and the order in which derived columns can be worked out.</summary>
internal sealed class Scope
{
    public const string AsOf = "as_of";

    /// <summary>The derived column that says why a record is counted or not.</summary>
    public const string CountedAs = "counted_as";

    private readonly Dictionary<string, ScopeColumn> _columns = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> _levels = new(StringComparer.Ordinal);

    private Scope(FieldDictionary dictionary) => Dictionary = dictionary;

    public FieldDictionary Dictionary { get; }

    public IEnumerable<ScopeColumn> Columns => _columns.Values;

    /// <summary>Derived columns whose tree is known, in file order.</summary>
    public static Scope Build(FieldDictionary dictionary, IReadOnlyList<(DerivedColumn Column, Expression Tree)> derived)
    {
        var scope = new Scope(dictionary);
        scope._columns[AsOf] = new ScopeColumn(AsOf, "DATE");
        foreach (var rollup in Rollups.Of(dictionary))
            scope._columns[rollup.Name] = new ScopeColumn(rollup.Name, rollup.SqlType)
            {
                Rollup = rollup,
                Allowed = rollup.Columns is [{ Value: null, Field: { Type: FieldType.Code } field }] && rollup.SqlType == "VARCHAR"
                    ? field.Allowed
                    : [],
            };
        foreach (var field in dictionary.Of(FieldDictionary.Procedure))
            foreach (var column in Column.Of(field))
                scope._columns[column.Name] = new ScopeColumn(column.Name, column.SqlType)
                {
                    Stored = column,
                    Allowed = field.Type == FieldType.Code ? field.Allowed : [],
                };
        foreach (var (column, tree) in derived)
            scope.Add(column, tree);
        scope.Settle(derived);
        return scope;
    }

    public ScopeColumn? Find(string name) => _columns.GetValueOrDefault(name);

    public ScopeColumn Get(string name) => _columns[name];

    /// <summary>0 for base columns; a derived column stands one above the highest that it names.</summary>
    public int Level(string name) => _levels.GetValueOrDefault(name);

    /// <summary>
    /// True where <see cref="Field.TooLow"/> in a column says that the reading was too low to measure: a field that may be
    /// unrecordable, an attempt's, or a derived column that hands one on.
    /// </summary>
    public bool MayBeTooLow(string name)
    {
        var column = Get(name);
        return column.Stored?.Field.MayBeUnrecordable is true
            || column.Rollup is { Columns: [{ Field.MayBeUnrecordable: true }] }
            || (column.Tree is { } tree && HandsOn(tree));

        bool HandsOn(Expression result) => result switch
        {
            Name inner => MayBeTooLow(inner.Value),
            Case choice => choice.Branches.Any(branch => HandsOn(branch.Then)) || (choice.Otherwise is { } otherwise && HandsOn(otherwise)),
            Call call => call.Arguments.Any(HandsOn),
            _ => false,
        };
    }

    /// <summary>The column as a number for a model or a median: a reading too low to measure is none.</summary>
    public string Measured(string name) => MayBeTooLow(name) ? $"nullif({Quote.Name(name)}, {Field.TooLow})" : Quote.Name(name);

    private void Add(DerivedColumn column, Expression tree)
    {
        var type = column.Type switch
        {
            DerivedType.YesNo => "BOOLEAN",
            DerivedType.Integer => "INTEGER",
            DerivedType.Number => "DOUBLE",
            _ => "VARCHAR",
        };
        var stored = _columns.GetValueOrDefault(column.Id);
        if (stored is { Derived: not null })
            throw Failure.Definition(column.File, column.Line, $"the derived column `{column.Id}` is defined twice; remove one");
        // A local field of another type wins outright.
        if (stored is not null && stored.SqlType != type)
            return;
        _columns[column.Id] = new ScopeColumn(column.Id, type)
        {
            Stored = stored?.Stored,
            Derived = column,
            Tree = tree,
            Allowed = stored?.Allowed ?? (tree is Name { Value: var same } ? _columns.GetValueOrDefault(same)?.Allowed ?? [] : []),
        };
    }

    // A local field in place of a shipped one can leave a derived column without what it names: that column then does not exist
    // in this pipeline, and a measure that needs it says so. With the shipped fields all there, it is an error of ours.
    private void Settle(IReadOnlyList<(DerivedColumn Column, Expression Tree)> derived)
    {
        var replaced = FieldDictionary.Shipped.Of(FieldDictionary.Procedure)
            .Any(field => Dictionary.Find(field.Table, field.Name) != field);
        var left = derived.Where(item => Get(item.Column.Id).Derived is not null).ToList();
        for (var settled = false; !settled;)
        {
            settled = true;
            _levels.Clear();
            foreach (var (column, tree) in left.ToArray())
                try
                {
                    Check(column, tree);
                }
                catch (Failure) when (replaced)
                {
                    settled = false;
                    left.Remove((column, tree));
                    Drop(column);
                }
        }
    }

    private void Drop(DerivedColumn column)
    {
        if (Get(column.Id).Stored is { } stored)
            _columns[column.Id] = new ScopeColumn(column.Id, stored.SqlType) { Stored = stored, Allowed = Get(column.Id).Allowed };
        else
            _columns.Remove(column.Id);
    }

    private void Check(DerivedColumn column, Expression tree)
    {
        try
        {
            var kind = TypeCheck.Of(tree, this);
            if (kind != Get(column.Id).Kind && kind != Kind.Null)
                throw new ConditionError($"it gives {TypeCheck.Word(kind)}, not its declared type");
            foreach (var need in column.Needs.SelectMany(group => group))
                if (Find(need) is null)
                    throw TypeCheck.Unknown(need, this);
            _ = Depth(column.Id, []);
        }
        catch (ConditionError error)
        {
            throw Failure.Definition(column.File, column.Line, $"derived column `{column.Id}`: {error.Message}");
        }
    }

    private int Depth(string name, ImmutableHashSet<string> above)
    {
        if (_levels.TryGetValue(name, out var level))
            return level;
        if (Get(name).Tree is not { } tree)
            return 0;
        if (above.Contains(name))
            throw new ConditionError($"it goes round in a circle through `{name}`; break the circle");
        level = 1 + Expressions.Names(tree).Select(inner => Depth(inner, above.Add(name))).DefaultIfEmpty(0).Max();
        return _levels[name] = level;
    }
}
