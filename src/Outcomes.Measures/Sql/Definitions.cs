using System.Collections.Immutable;
using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>A condition or value of a definition, and where it stands.</summary>
/// <param name="Text">As written.</param>
/// <param name="Owner">What it belongs to, for messages, such as <c>measure first_pass, eligible</c>.</param>
/// <param name="File">The file it stands in.</param>
/// <param name="Line">Its line.</param>
/// <param name="Kind">What it must give.</param>
internal sealed record Written(string Text, string Owner, string File, int Line, Kind Kind);

/// <summary>The names that conditions may use, and the conditions parsed so far.</summary>
internal sealed class Definitions
{
    private readonly Dictionary<(string, Kind), Expression> _trees;
    private readonly DuckDBConnection _connection;

    private Definitions(DuckDBConnection connection, Scope scope, Dictionary<(string, Kind), Expression> trees)
    {
        _connection = connection;
        _trees = trees;
        Scope = scope;
    }

    public Scope Scope { get; }

    /// <summary>The same, with what is new from now on parsed by another connection.</summary>
    public Definitions On(DuckDBConnection connection) => new(connection, Scope, new(_trees));

    public static Definitions Build(DuckDBConnection connection, FieldDictionary dictionary, IReadOnlyList<DerivedColumn> derived)
    {
        var parsed = ConditionParser.Parse(connection, [.. derived.Select(column => new Source(column.Sql, Shipped: true))]);
        var trees = derived.Select((column, i) => (column, parsed[i].Tree
            ?? throw Failure.Definition(column.File, column.Line, $"derived column `{column.Id}`: {parsed[i].Error!.Message}"))).ToArray();
        return new Definitions(connection, Scope.Build(dictionary, trees), []);
    }

    /// <summary>Parses and checks what is new, in one go.</summary>
    public void Add(IEnumerable<Written> written)
    {
        var fresh = written.Where(item => !_trees.ContainsKey((item.Text, item.Kind))).ToArray();
        var parsed = ConditionParser.Parse(_connection, [.. fresh.Select(item => new Source(item.Text, Shipped: false))]);
        for (var i = 0; i < fresh.Length; i++)
            _trees[(fresh[i].Text, fresh[i].Kind)] = Check(fresh[i], parsed[i]);
    }

    public void Add(IEnumerable<Measure> measures) => Add(measures.SelectMany(Of));

    public void Add(IReadOnlyList<ConsistencyRule> rules)
    {
        Add(rules.Select(rule => new Written(rule.Expect, $"rule {rule.Id}", rule.File, rule.Line, Kind.YesNo)));
        foreach (var rule in rules)
            foreach (var name in rule.Blanks)
                if (RuleFile.NamesEvent(name))
                    throw Failure.Definition(rule.File, rule.Line,
                        $"rule {rule.Id}: `{name}` names an event, and no rule may blank one; use severity warn");
                else if (Scope.Dictionary.Find(FieldDictionary.Attempt, name) is not null
                    && Scope.Dictionary.Find(FieldDictionary.Procedure, name) is null || Scope.Find(name)?.Rollup is not null)
                    throw Failure.Definition(rule.File, rule.Line,
                        $"rule {rule.Id}: `{name}` belongs to attempts, and a rule blanks fields of the record only; use severity warn");
                else if (Blanked(name).Length == 0)
                    throw Failure.Definition(rule.File, rule.Line, $"rule {rule.Id}: `{name}` in blanks is no field of the dictionary; "
                        + "derived columns cannot be blanked, blank what they come from");
    }

    /// <summary>Every name in the conditions and values parsed so far.</summary>
    public ImmutableHashSet<string> Names => [.. _trees.Values.SelectMany(tree => Expressions.Names(tree))];

    /// <summary>True where a condition can be read with the names of this pipeline.</summary>
    public bool Accepts(string condition)
    {
        try
        {
            Add([new Written(condition, "condition", "", 0, Kind.YesNo)]);
            return true;
        }
        catch (Failure)
        {
            return false;
        }
    }

    public Expression Condition(string text) => _trees[(text, Kind.YesNo)];

    public Expression Value(string text) => _trees[(text, Kind.Number)];

    /// <summary>The base columns that a name in <c>blanks</c> stands for: every column of a set field.</summary>
    public string[] Blanked(string name) =>
        [.. Scope.Columns
            .Where(column => column.Name != Scope.AsOf && (column.Stored?.Field.Name == name || (column.IsBase && column.Name == name)))
            .Select(column => column.Name)];

    private static IEnumerable<Written> Of(Measure measure)
    {
        yield return new Written(measure.Eligible, $"measure {measure.Id}, eligible", measure.File, measure.EligibleLine, Kind.YesNo);
        yield return measure.Kind == MeasureKind.Proportion
            ? new Written(measure.Met, $"measure {measure.Id}, met", measure.File, measure.MetLine, Kind.YesNo)
            : new Written(measure.Value, $"measure {measure.Id}, value", measure.File, measure.MetLine, Kind.Number);
    }

    private Expression Check(Written item, (Expression? Tree, ConditionError? Error) parsed)
    {
        try
        {
            var tree = parsed.Tree ?? throw parsed.Error!;
            var kind = TypeCheck.Of(tree, Scope);
            if (kind != item.Kind)
                throw new ConditionError($"it gives {TypeCheck.Word(kind)} where {TypeCheck.Word(item.Kind)} is needed");
            return TypeCheck.WithDates(tree, Scope);
        }
        catch (ConditionError error)
        {
            throw Failure.Definition(item.File, item.Line, $"{item.Owner}: {error.Message}");
        }
    }
}
