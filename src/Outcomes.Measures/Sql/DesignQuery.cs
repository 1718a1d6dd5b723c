using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>Judged records one by one, with fields beside their answer: what a model of single records is fitted to.</summary>
internal static class DesignQuery
{
    /// <summary>
    /// A design a measure, in their order. One query asks for all of them: planning one costs more than reading the records.
    /// </summary>
    public static ImmutableArray<Design> Run(
        CountedRecords from, IReadOnlyList<Measure> measures, IReadOnlyList<string> fields, ImmutableArray<string> notCollected)
    {
        var plans = measures.Select(from.Measures.For).ToArray();
        var built = plans.Select(_ => new Building(fields.Count)).ToArray();
        int[] asked = [.. Enumerable.Range(0, plans.Length).Where(i => !plans[i].Variants.IsEmpty)];
        if (asked.Length > 0)
        {
            using var command = from.Connection.CreateCommand();
            command.CommandText = Sql(from, [.. asked.Select(i => plans[i])], fields);
            using var reader = command.ExecuteReader();
            while (reader.Read())
            {
                var (month, place) = (CountQuery.MonthOf(reader.GetInt32(0)), (reader.GetInt32(1), reader.GetInt32(2)));
                var values = new object?[fields.Count];
                for (var i = 0; i < values.Length; i++)
                    values[i] = reader.IsDBNull(3 + i) ? null : reader.GetValue(3 + i);
                for (var i = 0; i < asked.Length; i++)
                    if (MeasureSql.Answer(reader.GetInt64(3 + values.Length + i)) is var answer and (Answer.Met or Answer.NotMet))
                        built[asked[i]].Add(month, place, answer == Answer.Met, values);
            }
        }

        return [.. built.Select(each => each.Done(from.Scope, fields, notCollected))];
    }

    private static string Sql(CountedRecords counted, MeasureSql.Plan[] plans, IReadOnlyList<string> fields)
    {
        var notApplicable = counted.Rows.NotApplicable(plans.SelectMany(counted.Measures.Cells));
        var from = counted.Records.Build(plans.SelectMany(plan => plan.Names).Concat(fields).Append("event_date").Distinct(),
            Stage.Counted, notApplicable);
        var columns = string.Concat(fields.Select((name, i) => $", {Value(counted.Scope, name)} AS f{i}"));
        var codes = string.Concat(plans.Select((plan, i) => $", CAST({counted.Measures.Code(plan, notApplicable)} AS BIGINT) AS c{i}"));
        var judged = string.Join(" OR ", plans.Select((_, i) => $"c{i} IN ({MeasureSql.Judged})"));
        return $"SELECT month, CAST(source AS INTEGER), CAST(\"row\" AS INTEGER){string.Concat(fields.Select((_, i) => $", f{i}"))}"
            + string.Concat(plans.Select((_, i) => $", c{i}"))
            + $" FROM (SELECT {CountQuery.Month} AS month, event_date, source, \"row\"{columns}{codes} FROM ({from}) "
            + $"WHERE event_date IS NOT NULL) WHERE {judged} ORDER BY event_date, source, \"row\"";
    }

    /// <summary>A design as its records come in.</summary>
    private sealed class Building(int fields)
    {
        private readonly ImmutableArray<Month>.Builder _months = ImmutableArray.CreateBuilder<Month>();
        private readonly ImmutableArray<bool>.Builder _met = ImmutableArray.CreateBuilder<bool>();
        private readonly ImmutableArray<(int Source, int Row)>.Builder _places = ImmutableArray.CreateBuilder<(int Source, int Row)>();
        private readonly List<object?>[] _values = [.. Enumerable.Range(0, fields).Select(_ => new List<object?>())];

        public void Add(Month month, (int Source, int Row) place, bool met, object?[] values)
        {
            _months.Add(month);
            _places.Add(place);
            _met.Add(met);
            for (var i = 0; i < values.Length; i++)
                _values[i].Add(values[i]);
        }

        public Design Done(Scope scope, IReadOnlyList<string> names, ImmutableArray<string> notCollected) => new(
            _months.ToImmutable(), _met.ToImmutable(), [.. names.Select((name, i) => Field(scope.Get(name), _values[i]))], notCollected)
        {
            Rows = _places.ToImmutable(),
        };
    }

    private static string Value(Scope scope, string name) =>
        scope.Get(name) is { Kind: not Kind.Number } column ? CountQuery.Level(column) : $"CAST({scope.Measured(name)} AS DOUBLE)";

    private static DesignField Field(ScopeColumn column, List<object?> values) => column.Kind == Kind.Number
        ? new(column.Name, default,
            [.. values.Select(value => value is null ? (double?)null : Convert.ToDouble(value, CultureInfo.InvariantCulture))])
        : new(column.Name, [.. values.Select(value => (string?)value)], default);
}
