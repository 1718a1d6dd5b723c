namespace Outcomes.Ingestion;
