using Outcomes.Records;

namespace Outcomes.Ingestion.Mapping;

/// <summary>The fields without which a row cannot be placed.</summary>
public static class Keys
{
    public const string RecordId = "record_id";
    public const string EventDate = "event_date";
    public const string AttemptNo = "attempt_no";
    public const string Offset = "t_s";
    public const string Signal = "signal";

    /// <summary>A row with a bad or missing one is quarantined.</summary>
    public static bool IsKey(Field field) => IsKey(field.Name);

    public static bool IsKey(string field) => field is RecordId or EventDate or AttemptNo or Offset or Signal;
}
