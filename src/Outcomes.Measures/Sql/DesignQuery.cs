using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>Judged records one by one, with fields beside their answer: what a model of single records is fitted to.</summary>
internal static class DesignQuery
{
    public static Design Run(
        CountedRecords from, Measure measure, IReadOnlyList<string> fields, ImmutableArray<string> notCollected)
    {
        var plan = from.Measures.For(measure);
        var (months, met) = (ImmutableArray.CreateBuilder<Month>(), ImmutableArray.CreateBuilder<bool>());
        var values = fields.Select(_ => new List<object?>()).ToArray();
        var places = ImmutableArray.CreateBuilder<(int Source, int Row)>();
        if (!plan.Variants.IsEmpty)
        {
            using var command = from.Connection.CreateCommand();
            command.CommandText = Sql(from, plan, fields);
            using var reader = command.ExecuteReader();
            while (reader.Read())
            {
                months.Add(CountQuery.MonthOf(reader.GetInt32(0)));
                places.Add((reader.GetInt32(2), reader.GetInt32(3)));
                met.Add(MeasureSql.Answer(reader.GetInt64(1)) == Answer.Met);
                for (var i = 0; i < values.Length; i++)
                    values[i].Add(reader.IsDBNull(4 + i) ? null : reader.GetValue(4 + i));
            }
        }

        return new(months.ToImmutable(),
            met.ToImmutable(), [.. fields.Select((name, i) => Field(from.Scope.Get(name), values[i]))], notCollected)
        {
            Rows = places.ToImmutable()
        };
    }

    private static string Sql(CountedRecords counted, MeasureSql.Plan plan, IReadOnlyList<string> fields)
    {
        var notApplicable = counted.Rows.NotApplicable(counted.Measures.Cells(plan));
        var from = counted.Records.Build(plan.Names.Concat(fields).Append("event_date").Distinct(), Stage.Counted, notApplicable);
        var columns = string.Concat(fields.Select((name, i) => $", {Value(counted.Scope, name)} AS f{i}"));
        return $"SELECT month, code, CAST(source AS INTEGER), CAST(\"row\" AS INTEGER){string.Concat(fields.Select((_, i) => $", f{i}"))}"
            + $" FROM (SELECT {CountQuery.Month} AS month, CAST({counted.Measures.Code(plan, notApplicable)} AS BIGINT) AS code, "
            + $"event_date, source, \"row\"{columns} FROM ({from}) WHERE event_date IS NOT NULL)"
            + $" WHERE code IN ({MeasureSql.Judged}) ORDER BY event_date, source, \"row\"";
    }

    private static string Value(Scope scope, string name) =>
        scope.Get(name) is { Kind: not Kind.Number } column ? CountQuery.Level(column) : $"CAST({scope.Measured(name)} AS DOUBLE)";

    private static DesignField Field(ScopeColumn column, List<object?> values) => column.Kind == Kind.Number
        ? new(column.Name, default,
            [.. values.Select(value => value is null ? (double?)null : Convert.ToDouble(value, CultureInfo.InvariantCulture))])
        : new(column.Name, [.. values.Select(value => (string?)value)], default);
}
