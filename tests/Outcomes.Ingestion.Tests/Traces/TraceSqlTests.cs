using System.Globalization;
using System.Text;
using DuckDB.NET.Data;
using Outcomes.Ingestion.Traces;

namespace Outcomes.Tests.Ingestion.Traces;

/// <summary>The rules written a second time, as window functions of a general SQL engine, on random traces: both must agree.</summary>
public class TraceSqlTests
{
    // Every step of the rules as a table; w1 is the end of the window in ms.
    private const string Sql = """
        WITH moments AS (SELECT id, ms, median(v) AS v FROM samples GROUP BY id, ms),
        gaps AS (SELECT id, ms - lag(ms) OVER (PARTITION BY id ORDER BY ms) AS d FROM moments),
        intervals AS (SELECT id, quantile_disc(d, 0.5) AS d FROM gaps WHERE d IS NOT NULL GROUP BY id),
        valued AS (SELECT *, lag(v) OVER w AS before, lead(v) OVER w AS after, lead(ms) OVER w - lag(ms) OVER w AS apart FROM moments WHERE v IS NOT NULL WINDOW w AS (PARTITION BY id ORDER BY ms)),
        clean AS (SELECT id, ms, v FROM valued WHERE NOT coalesce(apart <= 20000 AND (v < least(before, after) - 10 OR v > greatest(before, after) + 10), false)),
        held AS (SELECT c.*, d, w1, greatest(2, (10000 + d - 1) // d) AS k, lead(c.ms) OVER (PARTITION BY c.id ORDER BY c.ms) - c.ms AS gap FROM clean c JOIN intervals i ON i.id = c.id JOIN windows n ON n.id = c.id),
        timed AS (SELECT *, CASE WHEN gap <= 2.5 * d THEN gap ELSE d END AS hold FROM held),
        known AS (SELECT *, greatest(0, least(ms + hold, w1) - greatest(ms, 0)) AS inside FROM timed),
        sums AS (SELECT id, sum(inside) / max(w1) AS coverage, coalesce(sum(inside) FILTER (v < 90), 0) AS below90, coalesce(sum(inside) FILTER (v < 80), 0) AS below80,
            coalesce(sum((90 - v) * inside) FILTER (v < 90), 0) / 1000 AS area90, min(v) FILTER (ms >= 0 AND ms <= w1) AS lowest FROM known GROUP BY id),
        islands AS (SELECT *, sum(CASE WHEN start THEN 1 ELSE 0 END) OVER (PARTITION BY id ORDER BY ms) AS island
            FROM (SELECT *, coalesce(lag(gap) OVER (PARTITION BY id ORDER BY ms) > 2.5 * d, true) AS start FROM known WHERE ms >= 0)),
        numbered AS (SELECT *, row_number() OVER (PARTITION BY id, island ORDER BY ms) AS place FROM islands),
        windowed AS (SELECT a.id, a.ms AS behind, min(b.ms) AS front, max(b.v) AS highest, min(b.v) AS least FROM numbered a JOIN numbered b ON b.id = a.id AND b.island = a.island AND b.place BETWEEN a.place - a.k + 1 AND a.place
            GROUP BY a.id, a.ms, a.k HAVING count(*) = a.k),
        sustained AS (SELECT x.id, min(highest) FILTER (behind <= w1) AS lowest, min(front) FILTER (highest <= 90 AND behind <= w1) AS reached, min(front) FILTER (highest < 90 AND behind <= w1) AS fell FROM windowed x JOIN windows n ON n.id = x.id GROUP BY x.id),
        recovered AS (SELECT x.id, min(front) AS back FROM windowed x JOIN sustained s ON s.id = x.id WHERE least >= 94 AND front >= fell GROUP BY x.id)
        SELECT s.id, s.coverage, s.lowest, u.lowest, s.below90, s.below80, s.area90, u.reached, r.back - u.fell
        FROM sums s LEFT JOIN sustained u ON u.id = s.id LEFT JOIN recovered r ON r.id = s.id ORDER BY s.id
        """;

    [Fact]
    public void Random_traces_give_what_sql_gives()
    {
        var random = new Random(20260401);
        var traces = Enumerable.Range(0, 400).Select(_ => Random(random)).ToArray();
        using var connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        Run(connection, "CREATE TABLE samples (id INTEGER, ms BIGINT, v DOUBLE); CREATE TABLE windows (id INTEGER, w1 BIGINT)");
        var text = new StringBuilder();
        for (var id = 0; id < traces.Length; id++)
        {
            foreach (var sample in traces[id].Samples)
                text.Append(CultureInfo.InvariantCulture, $"{(text.Length == 0 ? "" : ",")}({id},{sample.Ms},"
                    + $"{(double.IsNaN(sample.Value) ? "NULL" : sample.Value.ToString("R", CultureInfo.InvariantCulture))})");
            Run(connection, $"INSERT INTO windows VALUES ({id}, {TraceWindow.Of(traces[id].Times, traces[id].Samples[^1].Ms).EndMs})");
        }

        Run(connection, $"INSERT INTO samples VALUES {text}");
        using var command = connection.CreateCommand();
        command.CommandText = Sql;
        using var reader = command.ExecuteReader();
        int judged = 0, recovered = 0, low = 0;
        for (var id = 0; id < traces.Length; id++)
        {
            Assert.True(reader.Read());
            Assert.Equal(id, reader.GetInt32(0));
            var seen = Drawn.SpO2(traces[id].Samples, traces[id].Times.TubeS);
            Assert.Equal(Number(1)!.Value, seen.SpO2.Coverage!.Value, 1e-9);
            Assert.Equal(Number(2), seen.SpO2.Lowest);
            Assert.Equal(Number(3), seen.SustainedLowest);
            if (seen.SpO2.Status != TraceStatus.Sufficient)
            {
                low++;
                continue;
            }

            judged++;
            Assert.Equal(Number(4), seen.Below90Ms);
            Assert.Equal(Number(5), seen.Below80Ms);
            Assert.Equal(Number(6)!.Value, seen.Area90!.Value, 1e-6);
            Assert.Equal(Number(7), seen.TimeTo90Ms);
            Assert.Equal(Number(8), seen.RecoveryMs);
            if (seen.RecoveryMs is not null) recovered++;
        }

        // The draw reaches what it is meant to reach.
        Assert.True(judged > 100 && recovered > 30 && low > 20, $"{judged} judged, {recovered} recovered, {low} with low coverage");

        double? Number(int column) => reader.IsDBNull(column)
            ? null
            : double.Parse(Convert.ToString(reader.GetValue(column), CultureInfo.InvariantCulture)!, CultureInfo.InvariantCulture);
    }

    private static (Sample[] Samples, RecordTimes Times) Random(Random random)
    {
        var every = new[] { 1000, 2000, 4000, 5000, 10_000, 30_000 }[random.Next(6)];
        var value = 97.0;
        var target = random.Next(60, 100);
        var missing = random.Next(4) == 0 ? 0.3 : 0.05;
        var samples = new List<Sample>();
        for (var ms = -every * random.Next(5); samples.Count < 60 || ms < 300_000; ms += every)
        {
            if (random.Next(60) == 0) ms += every * random.Next(1, 8);
            if (random.Next(30) == 0) target = random.Next(60, 101);
            value = Math.Clamp(value + (Math.Sign(target - value) * random.Next(0, 4)), 20, 100);
            if (random.NextDouble() < missing) samples.Add(new Sample(ms, double.NaN));
            else samples.Add(new Sample(ms + (random.Next(10) == 0 ? random.Next(300) : 0), random.Next(40) == 0 ? 55 : value));
            if (random.Next(40) == 0) samples.Add(samples[^1] with { Value = value - 2 });
        }

        return ([.. samples.OrderBy(sample => sample.Ms)], new RecordTimes(null, random.Next(2) == 0 ? random.Next(20, 180) : null, null));
    }

    private static void Run(DuckDBConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
