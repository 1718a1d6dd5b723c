using Outcomes.Analysis;

namespace Outcomes.Cli;

/// <summary>The counts of a department with what only its sources know: capture, data quality, traces, cases.</summary>
internal static class DepartmentCounting
{
    public static DepartmentCounts Count(AnalysisPlan plan, CheckedRecords records, CheckedData data, CasePack cases) =>
        CountDepartment.Count(records.Engine, plan, records.ByMonth) with
        {
            Capture = data.Capture,
            Data = data.State,
            Traces = records.CountTraces(plan),
            Review = cases.Counts,
        };
}
