using Outcomes.Ingestion.Mapping;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion;

public class AttemptTests
{
    private static readonly SourceMapping Wide = Maps.Of("record_id", "event_date") with
    {
        Text = "wide",
        Attempts = new WideAttempts("attempt{n}_*", [new ColumnMapping("seconds", "took", 8) { Unit = "min" }], 7),
    };

    [Fact]
    public void Attempts_in_columns_become_rows_of_their_own()
    {
        using var place = new Workplace();
        var source = place.Read(
            "record_id,event_date,attempt1_outcome,attempt1_took,attempt2_outcome,attempt2_took,attempt1_remark,attempt1_nonsense\n"
            + "R1,2024-01-31,no_view,1,success,0.5,words,x\nR2,2024-01-31,,,,,,\nR3,2024-01-31,bad,90,,,,\nR4,2024-01-31,,,unknown,,,\n",
            Wide);
        Assert.Equal(
            ["0 2 R1 1 no_view 60", "0 2 R1 2 success 30", "2 4 R3 1  ", "3 5 R4 2  "],
            Stored.Rows(source.Stored.Attempts).Select(row => string.Join(' ', row["row"], row["line"], row["record_id"], row["attempt_no"],
                row["outcome"], row["seconds"])).Order(StringComparer.Ordinal));
        Assert.Equal(["not_allowed 4:3 outcome", "out_of_range 4:4 seconds"], Stored.Notes(source));
        Assert.Equal(
            ["attempt 2 1 outcome invalid", "attempt 2 1 seconds invalid", "attempt 3 2 outcome unknown"],
            Stored.Rows(source.Stored.Reasons).Select(row => string.Join(' ', row["tab"], row["row"], row["attempt_no"], row["field"],
                row["reason"])).Order(StringComparer.Ordinal));
        Assert.Equal(["outcome", "seconds"], source.Stored.AttemptFields.Order(StringComparer.Ordinal));
        Assert.Equal(["None", "CellFault", "HasAttempts"], Stored.Index(source).SelectMany(row => row.Split('|')[3].Split(", ")).Distinct()
            .Order(StringComparer.Ordinal)
            .OrderBy(mark => mark == "None" ? 0 : 1));
    }

    [Fact]
    public void A_file_of_attempts_is_a_source_of_attempts_alone()
    {
        using var place = new Workplace();
        var source = place.Read("record_id,attempt_no,outcome\nR1,1,no_view\nR1,2,success\nR1,x,success\nR1,41,success\nR1,,success\n"
            + ",1,success\n", Maps.Attempts);
        Assert.Empty(source.Stored.Records);
        Assert.True(source.Stored.RowsAreAttempts);
        Assert.Equal(["R1 1 no_view", "R1 2 success"], Stored.Rows(source.Stored.Attempts).Take(2)
            .Select(row => string.Join(' ', row["record_id"], row["attempt_no"], row["outcome"])));
        Assert.Equal(["not_integer 4:2 attempt_no", "out_of_range 5:2 attempt_no", "missing 6:2 attempt_no", "missing 7:1 record_id"],
            Stored.Notes(source));
    }

    [Fact]
    public void Attempt_mappings_that_would_be_dropped_in_silence_are_refused()
    {
        WideAttempts With(ColumnMapping column) => Wide.Attempts! with { Columns = [column] };
        (SourceMapping Mapping, string Heading, string Words)[] wrong =
        [
            (Wide, "attempt1_outcome,attempt1_outcome,attempt1_took", "several columns give `outcome` of attempt 1"),
            (Wide, "attempt1_took,attempt01_took", "several columns give `seconds` of attempt 1"),
            (Wide, "attempt1_seconds,attempt1_took", "several columns"),
            (Wide, "attempt1_outcome", "`took` in place of *"),
            (Wide with { Attempts = Wide.Attempts! with { Columns = [] } }, "attempt1_colour", "no heading matches"),
            (Wide with { Attempts = With(new ColumnMapping("outcom", "took", 8)) }, "attempt1_took", "did you mean `outcome`?"),
            (Wide with { Attempts = With(new ColumnMapping("remark", "took", 8)) }, "attempt1_took", "may identify"),
            (Maps.Attempts with { Attempts = Wide.Attempts }, "attempt_no,outcome", "remove `attempts`"),
            (Maps.Attempts with { Status = new StatusMapping("state", ["x"], 8) }, "attempt_no,outcome,state", "remove it"),
        ];
        foreach (var (mapping, heading, words) in wrong)
        {
            using var place = new Workplace();
            var failure = Assert.Throws<Failure>(() => place.Read($"record_id,event_date,{heading}\n", mapping));
            Assert.Equal(ExitCode.Definition, failure.Code);
            Assert.InRange(failure.Line, 7, 8);
            Assert.Contains(words, failure.Message, StringComparison.Ordinal);
        }
    }
}
