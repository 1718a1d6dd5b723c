using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Ingestion;
using Outcomes.Ingestion.Ledgers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Traces;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion.Traces;

/// <summary>
/// From trace files to samples by record: long and wide, units, order, blocks, several files, and what becomes of every row.
/// </summary>
public sealed class TraceFileTests : IDisposable
{
    private readonly Workplace _place = new();

    private static readonly SourceMapping Long = Map("record_id", "t_s", "signal", "value", "unit", "quality");

    private static readonly SourceMapping Wide = Map("record_id", "t_s", "spo2", "sbp");

    private static SourceMapping Map(params string[] fields) => new("map.yaml", string.Join(",", fields),
        new TableLayout(null, false) { RowsAreSamples = true }, [.. fields.Select((field, i) => new ColumnMapping(field, field, i + 1))]);

    [Fact]
    public void Long_and_wide_give_the_same_samples()
    {
        var tall = Samples(
            Read("record_id,t_s,signal,value,unit,quality\nA,0,spo2,98,%,ok\nA,0,sbp,120,mmHg,\nA,1.5,spo2,97,,ok\nA,1.5,sbp,,,\n", Long));
        Assert.Equal(["A SpO2 0 98", "A SpO2 1500 97", "A Systolic 0 120", "A Systolic 1500 NaN"], tall);
        // A blank cell beside another signal is no row of its own signal.
        Assert.Equal(tall[..^1], Samples(Read("record_id,t_s,spo2,sbp\nA,0,98,120\nA,1.5,97,\n", Wide)));
    }

    [Fact]
    public void Units_are_converted_row_by_row_and_an_unknown_one_leaves_no_value()
    {
        // 1 kPa = 7.50062 mmHg: 37.5031 mmHg are 5 kPa.
        var source = Read("record_id,t_s,signal,value,unit,quality\nA,0,etco2,37.5031,mmHg,ok\nA,1,etco2,5,kPa,ok\nA,2,spo2,0.97,1,ok\n"
            + "A,3,spo2,97,furlong,ok\nA,4,sbp,16,kPa,ok\n", Long);
        Assert.Equal(["A EtCO2 0 5", "A EtCO2 1000 5", "A SpO2 2000 97", "A SpO2 3000 NaN", "A Systolic 4000 120.00992"], Samples(source));
        Assert.Equal(["not_allowed unit 5 x1"], Findings(source));
        Assert.Equal([new TraceRows("A", 2, 5, 0, 0, "", 1, 5)], TraceFile.Read(source.Stored.Folder));
    }

    [Fact]
    public void Quality_blanks_words_and_impossible_values_are_no_sample()
    {
        var source = Read("record_id,t_s,signal,value,unit,quality\nA,0,spo2,98,%,artefact\nA,1,spo2,98,%,lead_off\nA,2,spo2,,%,ok\n"
            + "A,3,spo2,127,%,ok\nA,4,spo2,---,%,ok\nA,5,spo2,98,%,ok\nA,6,spo2,128,%,ok\n", Long);
        Assert.Equal(["A SpO2 0 NaN", "A SpO2 1000 NaN", "A SpO2 2000 NaN", "A SpO2 3000 NaN", "A SpO2 4000 NaN", "A SpO2 5000 98",
            "A SpO2 6000 NaN"], Samples(source));
        Assert.Equal(["out_of_range spo2 5 x2", "not_number value 6 x1"], Findings(source));
    }

    [Fact]
    public void A_row_without_a_usable_key_offset_or_signal_is_held_and_summed()
    {
        var source = Read("record_id,t_s,signal,value,unit,quality\n,0,spo2,98,%,ok\nA,x,spo2,98,%,ok\nA,1,temp,98,%,ok\nA,2,spo2,98,%,ok\n"
            + "A,3,spo2\nA,90000,spo2,98,%,ok\n", Long);
        Assert.Equal(6, source.Manifest.Rows);
        Assert.Equal([new TraceRows("", 2, 2, 2, 2, "missing", 0, 0), new TraceRows("A", 3, 4, 3, 3, "not_number", 0, 0)],
            TraceFile.Read(source.Stored.Folder));
        Assert.Equal(["A SpO2 2000 98"], Samples(source));
    }

    [Theory]
    [InlineData("A,14:05:00,spo2,98,%,ok")]
    [InlineData("A,2026-03-01 14:05,spo2,98,%,ok")]
    [InlineData("A,1,spo2,98,%,ok\nA,01/03/2026,spo2,98,%,ok")]
    public void A_clock_time_in_place_of_an_offset_refuses_the_file(string rows)
    {
        var refusal = Assert.Throws<Failure>(() => Read($"record_id,t_s,signal,value,unit,quality\n{rows}\n", Long));
        Assert.Equal((ExitCode.Input, "trace_clock_time"), (refusal.Code, refusal.Rule));
        Assert.DoesNotContain("14:05", refusal.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("14:05:01")]
    [InlineData("2026-03-01T14:05:01Z")]
    [InlineData("01.03.2026")]
    [InlineData("1/3/26")]
    public void A_clock_time_in_a_column_that_is_not_read_refuses_the_file_too(string cell)
    {
        var refusal = Assert.Throws<Failure>(() => Read($"record_id,t_s,spo2,sbp,stamp\nA,1,98,120,\nA,2,98,120,{cell}\n", Wide));
        Assert.Equal(("trace_clock_time", 3), (refusal.Rule, refusal.Line));
    }

    [Theory]
    [InlineData("sbp", "120/80")]
    [InlineData("note", "1-2-3")]
    [InlineData("note", "1.5")]
    [InlineData("note", "-12")]
    public void What_is_no_clock_time_does_not(string heading, string cell) =>
        Assert.Equal(1, Read(heading == "sbp" ? $"record_id,t_s,spo2,sbp\nA,1,98,{cell}\n" : $"record_id,t_s,spo2,sbp,{heading}\n"
            + $"A,1,98,120,{cell}\n", Wide).Manifest.Rows);

    [Fact]
    public void An_identifier_refuses_a_trace_file_as_any_other()
    {
        // Ten-digit keys that pass the published check of NHS numbers (modulus 11); 943 476 5919, the standard's own example, is one.
        var keys = Enumerable.Range(943_476_591, 40).Select(Passing).OfType<string>().ToArray();
        Assert.Equal("9434765919", keys[0]);
        var rows = string.Concat(keys.SelectMany(key => Enumerable.Range(0, 3).Select(i => $"{key},{i},98,120\n")));
        var refusal = Assert.Throws<Failure>(() => Read("record_id,t_s,spo2,sbp\n" + rows, Wide));
        Assert.Equal(ExitCode.Input, refusal.Code);
        Assert.DoesNotContain("9434765919", refusal.Message, StringComparison.Ordinal);

        static string? Passing(int nine)
        {
            var sum = $"{nine}".Select((digit, i) => (digit - '0') * (10 - i)).Sum();
            var check = (11 - (sum % 11)) % 11;
            return check == 10 ? null : $"{nine}{check}";
        }
    }

    [Theory]
    [InlineData("t_s", "signal", "value")]
    [InlineData("record_id", "signal", "value")]
    [InlineData("record_id", "t_s", "signal")]
    [InlineData("record_id", "t_s", "value")]
    [InlineData("record_id", "t_s")]
    [InlineData("record_id", "t_s", "signal", "value", "spo2")]
    public void A_mapping_has_key_and_offset_and_one_of_the_two_shapes(params string[] fields) =>
        Assert.Equal(ExitCode.Definition, Assert.Throws<Failure>(() => Read(string.Join(',', fields) + "\n", Map(fields))).Code);

    [Fact]
    public void Order_of_rows_and_size_of_blocks_do_not_matter()
    {
        var random = new Random(7);
        var rows = Enumerable.Range(0, 4000).Select(i => $"R{i % 13},{i / 13},{random.Next(70, 100)},{random.Next(60, 160)}").ToArray();
        var expected = Samples(Read("record_id,t_s,spo2,sbp\n" + string.Join('\n', rows) + "\n", Wide));
        Assert.Equal(8000, expected.Length);
        Assert.Equal(expected, Samples(Read("record_id,t_s,spo2,sbp\n" + string.Join('\n', rows) + "\n\n", Wide, blockSize: 256)));
        random.Shuffle(rows);
        Assert.Equal(expected, Samples(Read("record_id,t_s,spo2,sbp\n" + string.Join('\n', rows) + "\n", Wide)));
    }

    [Fact]
    public void A_parquet_file_goes_the_same_way_and_a_date_column_in_it_refuses_it()
    {
        var expected = Samples(Read("record_id,t_s,spo2,sbp\nA,0,98,120\nA,1.5,97,\n", Wide));
        var source = Stored.Parquet("SELECT 'A' AS record_id, t AS t_s, s AS spo2, p AS sbp FROM (VALUES (0.0::DOUBLE, 98, 120), (1.5, 97, "
            + "NULL)) v(t, s, p)", path => Path(path, Wide));
        Assert.True(source.Manifest is { Converted: true, RowsAreSamples: true, Rows: 2 });
        Assert.Equal(expected, Samples(source));
        var refusal = Assert.Throws<Failure>(() => Stored.Parquet(
            "SELECT 'A' AS record_id, 0 AS t_s, 98 AS spo2, 120 AS sbp, DATE '2026-03-01' AS day", path => Path(path, Wide)));
        Assert.Equal("trace_clock_time", refusal.Rule);
    }

    private IngestedSource Path(string path, SourceMapping mapping) =>
        Ingest.Read(new SourceRequest("s0", 0, path, "s0.parquet", mapping), FieldDictionary.Shipped, _place.Store);

    [Fact]
    public void Two_files_give_the_fields_that_one_gives()
    {
        var records = Records("A,2026-03-01\nB,2026-03-02\n");
        string Rows(string id, int low) =>
            string.Concat(Enumerable.Range(0, 40).Select(i => $"{id},{i * 10},{(i is 5 or 6 or 7 ? low : 97)},110\n"));
        var one = TraceTables.Of([records], [Read("record_id,t_s,spo2,sbp\n" + Rows("A", 85) + Rows("B", 75), Wide, 1)],
            FieldDictionary.Shipped, _place.Store);
        var two = TraceTables.Of([records], [Read("record_id,t_s,spo2,sbp\n" + Rows("A", 85), Wide, 1),
            Read("record_id,t_s,spo2,sbp\n" + Rows("B", 75), Wide, 2)], FieldDictionary.Shipped, _place.Store);
        Assert.NotEqual(one.Folder, two.Folder);
        Assert.Equal(["0 85 30 0", "1 75 30 30"], Summaries(one));
        Assert.Equal(Summaries(one), Summaries(two));
        // A newer file that holds a trace of A replaces all of it.
        var newer = TraceTables.Of([records], [.. one.Traces, Read("record_id,t_s,spo2,sbp\n" + Rows("A", 60), Wide, 2)],
            FieldDictionary.Shipped, _place.Store);
        Assert.Equal(["0 60 30 30", "1 75 30 30"], Summaries(newer));
        var ledger = LedgerKeeper.Keep([records], ImmutableDictionary<(int, int), string>.Empty, DuplicatePolicy.Last, strict: false)
            .With(newer.Traces, strict: false);
        Assert.Equal([new("s0.csv", 2, 2, 0, 0, 0), new("s1.csv", 80, 40, 40, 0, 0), new Reconciliation("s2.csv", 40, 40, 0, 0, 0)],
            ledger.Files);
    }

    [Fact]
    public void Samples_share_the_fate_of_their_record_and_the_sums_reconcile()
    {
        var status = new SourceMapping("m.yaml", "status",
            new TableLayout(',', false), [new("record_id", "id", 1), new("event_date", "date", 2)])
        {
            Status = new StatusMapping("state", ["deleted"], 3)
        };
        var records = _place.ReadShipped("id,date,state\nA,2026-03-01,\nB,2026-03-02,deleted\nC,tomorrow,\n", status, 0);
        var trace = Read("record_id,t_s,signal,value,unit,quality\nA,0,spo2,98,%,ok\nB,0,spo2,98,%,ok\nB,1,spo2,98,%,ok\nC,0,spo2,98,%,ok\n"
            + "D,0,spo2,98,%,ok\nA,x,spo2,98,%,ok\nA,1,spo2,abc,%,ok\n", Long, 1);
        var kept = LedgerKeeper.Keep([records], ImmutableDictionary<(int, int), string>.Empty, DuplicatePolicy.Last, strict: false);
        var ledger = kept.With([trace], strict: false);
        Assert.Equal(
            ["A 7 Quarantined not_number x1", "A 2 Accepted  x2", "B 3 Withdrawn deleted x2", "C 5 Quarantined trace_without_record x1",
                "D 6 Quarantined trace_without_record x1"],
            ledger.Traces.Select(fate => $"{fate.Key} {fate.Line} {fate.Fate} {fate.Rule} x{fate.Rows}"));
        Assert.Equal(new Reconciliation("s1.csv", 7, 2, 0, 2, 3), ledger.Files[^1]);
        Assert.Equal(new Reconciliation("total", 10, 3, 0, 3, 4), ledger.Total);
        // 3 of 7 samples, 1 of 3 records: the greater share is what is tolerated or not.
        Assert.Equal(3 / 7.0, ledger.QuarantinedShare);
        Assert.Equal(new Reconciliation("s1.csv", 7, 1, 0, 2, 4), kept.With([trace], strict: true).Files[^1]);
    }

    [Fact]
    public void Each_version_of_a_record_is_judged_by_the_times_that_it_states()
    {
        var map = new SourceMapping("m.yaml", "times", new TableLayout(',', false),
            [new("record_id", "id", 1), new("event_date", "date", 2), new("t_tube_confirmed_s", "tube", 3)]);
        var records = _place.ReadShipped("id,date,tube\nA,2026-03-01,30\nA,2026-03-01,280\n", map, 0);
        var rows = string.Concat(Enumerable.Range(0, 41).Select(i => $"A,{i * 10},{(i > 20 ? 85 : 97)},110\n"));
        // Low from 210 s on: the window to 150 s sees none of it, that to 400 s 190 s.
        Assert.Equal(["0 97 0 0", "1 85 190 0"], Summaries(TraceTables.Of([records], [Read("record_id,t_s,spo2,sbp\n" + rows, Wide, 1)],
            FieldDictionary.Shipped, _place.Store)));
    }

    public void Dispose() => _place.Dispose();

    private IngestedSource Read(string text, SourceMapping mapping, int order = 0, int blockSize = 1 << 20) =>
        _place.ReadShipped(text, mapping, order, blockSize);

    private IngestedSource Records(string rows) => _place.ReadShipped("id,date\n" + rows,
        new SourceMapping("m.yaml", "plain", new TableLayout(',', false), [new("record_id", "id", 1), new("event_date", "date", 2)]), 0);

    private static string[] Samples(IngestedSource source)
    {
        var records = TraceFile.Read(source.Stored.Folder);
        return [.. RecordTraces.In(source.Stored.Folder, new SamplePart())
            .SelectMany(item => Enum.GetValues<Signal>().SelectMany(signal => item.Trace.Of(signal).ToArray()
                .Select(sample => string.Create(CultureInfo.InvariantCulture,
                    $"{records[item.Record].Key} {signal} {sample.Ms} {sample.Value}"))))
            .Order(StringComparer.Ordinal)];
    }

    private static string[] Findings(IngestedSource source) =>
        [.. Outcomes.Ingestion.Store.FindingLog.Read(source.FindingsPath)
            .Select(finding => $"{Outcomes.Ingestion.Reading.CellRules.Id(finding.Rule)} {finding.Field} {finding.Line} x{finding.Count}")];

    private static string[] Summaries(TraceSet set) =>
        [.. Stored.Rows(set.Sources[0].Stored.Summaries)
            .Select(row => $"{row["row"]} {row["trace_spo2_min_sustained"]} {row["trace_spo2_lt90_s"]} {row["trace_spo2_lt80_s"]}")];
}
