using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;

namespace Outcomes.Measures.Sql;

/// <summary>Judges all rules in one scan: a bit a rule, and only rows with a bit set come back.</summary>
internal static class RuleQuery
{
    private const int RulesPerMask = 60;

    public static IReadOnlyList<RuleBreach> Run(
        DuckDBConnection connection, RecordsSql records, Definitions definitions, IReadOnlyList<ConsistencyRule> rules)
    {
        var breaches = new List<RuleBreach>();
        if (rules.Count == 0)
            return breaches;
        var masks = rules.Select((rule, i) => (rule, i)).Chunk(RulesPerMask).ToArray();
        var names = rules.SelectMany(rule => Expressions.Names(definitions.Condition(rule.Expect))).Distinct();
        var bits = string.Concat(masks.Select((chunk, k) =>
            $", {string.Join(" | ", chunk.Select((item, i) => $"CASE WHEN {records.Broken(item.rule)} THEN {1L << i} ELSE 0 END"))} AS m"
                + $"{k}"));
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT * FROM (SELECT source, \"row\", line{bits} FROM ({records.Build(names, Stage.Stored, [])}))"
            + $" WHERE {string.Join(" OR ", masks.Select((_, k) => $"m{k} <> 0"))} ORDER BY source, \"row\"";
        using var reader = command.ExecuteReader();
        while (reader.Read())
            for (var k = 0; k < masks.Length; k++)
                for (var mask = reader.GetInt64(3 + k); mask != 0; mask &= mask - 1)
                    breaches.Add(new RuleBreach(reader.GetInt32(0), reader.GetInt32(1), reader.GetInt32(2),
                        (k * RulesPerMask) + System.Numerics.BitOperations.TrailingZeroCount(mask)));
        return breaches;
    }
}
