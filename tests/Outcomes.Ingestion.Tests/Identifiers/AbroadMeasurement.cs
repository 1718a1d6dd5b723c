using System.Globalization;
using System.Text;
using Bogus;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>
/// The detectors measured on whole files of nine locales: identifying columns beside the key and as the key, and clean columns. Each kind
/// of clean column makes a file of its own, so that a false refusal has a name.
/// </summary>
internal sealed class AbroadMeasurement
{
    private readonly Lock _gate = new();
    private readonly Dictionary<string, (int Refused, int Warned, int Of)> _planted = [];
    private readonly Dictionary<string, (int Refused, int Warned, int Of)> _keys = [];
    private readonly Dictionary<string, (int Refused, int Warned, int Of)> _clean = [];

    /// <param name="seed">The seed.</param>
    /// <param name="planted">Files a kind and locale, once beside the key and once as the key.</param>
    /// <param name="clean">Clean files a locale.</param>
    /// <param name="workers">Threads; the figures do not depend on it.</param>
    /// <param name="tell">Told of each file that passed unnoticed or was refused wrongly.</param>
    public AbroadMeasurement(int seed, int planted, int clean, int workers, Action<string>? tell = null) =>
        Parallel.For(0, Abroad.Locales.Length, new ParallelOptions { MaxDegreeOfParallelism = workers }, i =>
        {
            var at = new Faker(Abroad.Locales[i]) { Random = new Randomizer((seed * 1000) + i) };
            foreach (var (kind, draw) in Abroad.Planted)
                for (var file = 0; file < planted; file++)
                {
                    var rows = at.Random.Int(15, 200);
                    Count(_planted, kind, Of(at, rows, "Info", [.. draw(at, rows)], asKey: false),
                        $"{at.Locale} beside the key: {kind}", tell);
                    Count(_keys, kind, Of(at, rows, "record_id", [.. draw(at, rows)], asKey: true),
                        $"{at.Locale} as the key: {kind}", tell);
                }

            for (var file = 0; file < clean; file++)
            {
                var rows = at.Random.Int(12, 200);
                var (kind, heading, cells) = CleanAbroad.Draw(at, rows);
                var verdict = Of(at, rows, heading, cells, asKey: false);
                Count(_clean, kind, verdict, "", null);
                if (verdict.Refused) tell?.Invoke($"refused wrongly | {at.Locale} {kind}: {verdict.Rule} | {cells[0]}");
            }
        });

    /// <summary>Kinds with the files refused, refused or warned of, and all; beside the key.</summary>
    public IReadOnlyDictionary<string, (int Refused, int Warned, int Of)> Planted => _planted;

    /// <summary>The same as the key.</summary>
    public IReadOnlyDictionary<string, (int Refused, int Warned, int Of)> Keys => _keys;

    /// <summary>The same of clean columns.</summary>
    public IReadOnlyDictionary<string, (int Refused, int Warned, int Of)> Clean => _clean;

    public string Table()
    {
        var text = new StringBuilder();
        text.Append("\n| planted in a column, nine locales | refused | refused or warned of | as the key: refused | or warned of | of |\n"
            + "| --- | --- | --- | --- | --- | --- |\n");
        foreach (var (kind, _) in Abroad.Planted)
            text.Append(CultureInfo.InvariantCulture, $"| {kind} | {Share(_planted[kind].Refused, _planted[kind].Of)} | "
                + $"{Share(_planted[kind].Warned, _planted[kind].Of)} | {Share(_keys[kind].Refused, _keys[kind].Of)} | "
                + $"{Share(_keys[kind].Warned, _keys[kind].Of)} | {_planted[kind].Of} |\n");
        Sum(text, "all", _planted, _keys);
        text.Append("\n| clean column | refused | warned of | of |\n| --- | --- | --- | --- |\n");
        foreach (var (kind, (refused, warned, of)) in _clean.OrderBy(pair => pair.Key, StringComparer.Ordinal))
            text.Append(CultureInfo.InvariantCulture, $"| {kind} | {refused} | {warned - refused} | {of} |\n");
        text.Append(CultureInfo.InvariantCulture, $"| all | {_clean.Values.Sum(row => row.Refused)} | "
            + $"{_clean.Values.Sum(row => row.Warned - row.Refused)} | {_clean.Values.Sum(row => row.Of)} |\n");
        return text.ToString();
    }

    private static void Sum(StringBuilder text, string name, params Dictionary<string, (int Refused, int Warned, int Of)>[] tables) =>
        text.Append(CultureInfo.InvariantCulture, $"| {name} |").AppendJoin(" |", tables.Select(table =>
            $" {Share(table.Values.Sum(row => row.Refused), table.Values.Sum(row => row.Of))} | "
                + Share(table.Values.Sum(row => row.Warned), table.Values.Sum(row => row.Of))))
            .Append(CultureInfo.InvariantCulture, $" | {tables[0].Values.Sum(row => row.Of)} |\n");

    private static string Share(int part, int of) => string.Create(CultureInfo.InvariantCulture, $"{(double)part / of:P1}");

    private void Count(Dictionary<string, (int Refused, int Warned, int Of)> table, string kind,
        (bool Refused, bool Warned, string Rule) verdict, string what, Action<string>? tell)
    {
        if (!verdict.Warned) tell?.Invoke($"silent | {what}");
        lock (_gate)
        {
            var (refused, warned, of) = table.GetValueOrDefault(kind);
            table[kind] = (refused + (verdict.Refused ? 1 : 0), warned + (verdict.Warned ? 1 : 0), of + 1);
        }
    }

    private static (bool Refused, bool Warned, string Rule) Of(Faker at, int rows, string heading, string[] cells, bool asKey)
    {
        var text = new StringBuilder(asKey ? "record_id,event_date,spo2_min,location_type\n"
            : $"record_id,event_date,spo2_min,location_type,{heading}\n");
        for (var i = 0; i < rows; i++)
        {
            var cell = $"\"{cells[i].Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
            var day = new DateTime(2022, 1, 1).AddDays(at.Random.Int(0, 364)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
            var key = asKey ? cell : at.Random.String2(10, "23456789abcdefghjkmnpqrstvwxyz");
            text.Append(CultureInfo.InvariantCulture, $"{key},{day},{at.Random.Int(60, 100)},icu{(asKey ? "" : $",{cell}")}\n");
        }

        var (refusal, noted) = Measurement.Read(text.ToString());
        return (refusal is not null, refusal is not null || noted.Contains(heading) || (asKey && noted.Count > 0),
            refusal?[..refusal.IndexOf(':', StringComparison.Ordinal)] ?? "");
    }
}
