"""Studies, the outcomes that answer them, their chunks, and what they are answered from."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='Snapshot',
            fields=[
                ('digest', models.CharField(help_text='SHA-256 of the content.', max_length=64, primary_key=True, serialize=False)),
                ('content', models.BinaryField(help_text="The engine's catalogue as JSON, compressed by zlib.")),
                ('created_at', models.DateTimeField(help_text='When it was first asked for.')),
            ],
        ),
        migrations.CreateModel(
            name='Outcome',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('attempts', models.PositiveSmallIntegerField(default=0, help_text='How often a worker has begun it.')),
                ('lease_token', models.UUIDField(blank=True, help_text='Known to the worker that holds it.', null=True)),
                ('lease_until', models.DateTimeField(blank=True, help_text='When others may take it.', null=True)),
                ('queued_at', models.DateTimeField(blank=True, help_text='When it was last handed to the broker.', null=True)),
                ('last_error', models.TextField(blank=True, default='', help_text='Why the last attempt did not end well.')),
                ('key', models.CharField(help_text='SHA-256 of brief, catalogue and model version.', max_length=64)),
                ('brief', models.TextField(help_text="The engine's brief as JSON, without its title.")),
                ('model_version', models.CharField(help_text='Version of the model that answers.', max_length=32)),
                ('state', models.CharField(choices=[('queued', 'queued'), ('running', 'running'), ('done', 'done'), ('failed', 'failed'), ('cancelled', 'cancelled')], default='queued', help_text='How far it has come.', max_length=16)),
                ('chunk_total', models.PositiveIntegerField(help_text='Number of its enclosures.')),
                ('candidate_total', models.PositiveBigIntegerField(help_text='Number of its candidates.')),
                ('record', models.BinaryField(blank=True, help_text='What people see, as JSON, compressed by zlib.', null=True)),
                ('failure', models.TextField(blank=True, default='', help_text='Why there is no answer.')),
                ('created_at', models.DateTimeField(help_text='When it was first asked for.')),
                ('started_at', models.DateTimeField(blank=True, help_text='When a worker first began it.', null=True)),
                ('finished_at', models.DateTimeField(blank=True, help_text='When it was answered or given up.', null=True)),
                ('snapshot', models.ForeignKey(help_text='What it is answered from.', on_delete=django.db.models.deletion.PROTECT, related_name='+', to='advisor.snapshot')),
            ],
            options={
                'ordering': ['created_at', 'pk'],
            },
        ),
        migrations.CreateModel(
            name='Study',
            fields=[
                ('id', models.UUIDField(editable=False, primary_key=True, serialize=False)),
                ('guest', models.CharField(blank=True, default='', help_text="Digest by which a guest's studies are counted.", max_length=64)),
                ('title', models.CharField(blank=True, default='', help_text='A name for people.', max_length=120)),
                ('brief_given', models.JSONField(help_text='The brief as the person sent it.')),
                ('warnings', models.JSONField(blank=True, default=list, help_text='What its writer should know: field and message.')),
                ('idempotency_key', models.CharField(blank=True, default='', help_text="Word of the sender's; sent again, it means this same study.", max_length=200)),
                ('created_at', models.DateTimeField(help_text='When it was sent.')),
                ('cancelled_at', models.DateTimeField(blank=True, help_text='When its sender lost interest.', null=True)),
                ('outcome', models.ForeignKey(help_text='What answers it.', on_delete=django.db.models.deletion.PROTECT, related_name='studies', to='advisor.outcome')),
                ('owner', models.ForeignKey(blank=True, help_text="Whose it is; empty for a guest's, which is open to whoever holds its address.", null=True, on_delete=django.db.models.deletion.CASCADE, related_name='studies', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'verbose_name_plural': 'studies',
                'ordering': ['-created_at', '-id'],
            },
        ),
        migrations.CreateModel(
            name='Chunk',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('attempts', models.PositiveSmallIntegerField(default=0, help_text='How often a worker has begun it.')),
                ('lease_token', models.UUIDField(blank=True, help_text='Known to the worker that holds it.', null=True)),
                ('lease_until', models.DateTimeField(blank=True, help_text='When others may take it.', null=True)),
                ('queued_at', models.DateTimeField(blank=True, help_text='When it was last handed to the broker.', null=True)),
                ('last_error', models.TextField(blank=True, default='', help_text='Why the last attempt did not end well.')),
                ('enclosure', models.CharField(help_text='Code of the enclosure.', max_length=64)),
                ('size', models.PositiveBigIntegerField(help_text='Number of its candidates.')),
                ('state', models.CharField(choices=[('waiting', 'waiting for its turn'), ('queued', 'handed to the broker'), ('running', 'held by a worker'), ('done', 'done')], default='waiting', help_text='How far it is.', max_length=16)),
                ('scored', models.PositiveBigIntegerField(default=0, help_text='Candidates that its worker has dealt with.')),
                ('result', models.BinaryField(blank=True, help_text='What was found, as JSON, compressed by zlib.', null=True)),
                ('outcome', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='chunks', to='advisor.outcome')),
            ],
            options={
                'ordering': ['outcome', '-size', 'enclosure'],
                'constraints': [models.UniqueConstraint(fields=('outcome', 'enclosure'), name='chunk_once_per_outcome'), models.CheckConstraint(condition=models.Q(('state__in', ['waiting', 'queued', 'running', 'done'])), name='chunk_state_known'), models.CheckConstraint(condition=models.Q(models.Q(('lease_token__isnull', False), ('lease_until__isnull', False), ('state', 'running')), models.Q(models.Q(('state', 'running'), _negated=True), ('lease_token__isnull', True), ('lease_until__isnull', True)), _connector='OR'), name='chunk_lease_when_running'), models.CheckConstraint(condition=models.Q(models.Q(('result__isnull', False), ('state', 'done')), models.Q(models.Q(('state', 'done'), _negated=True), ('result__isnull', True)), _connector='OR'), name='chunk_result_when_done')],
            },
        ),
        migrations.AddIndex(
            model_name='outcome',
            index=models.Index(condition=models.Q(('state__in', ('queued', 'running'))), fields=['created_at'], name='outcome_unfinished'),
        ),
        migrations.AddConstraint(
            model_name='outcome',
            constraint=models.UniqueConstraint(condition=models.Q(('state__in', ('queued', 'running', 'done'))), fields=('key',), name='outcome_one_answer'),
        ),
        migrations.AddConstraint(
            model_name='outcome',
            constraint=models.CheckConstraint(condition=models.Q(('state__in', ['queued', 'running', 'done', 'failed', 'cancelled'])), name='outcome_state_known'),
        ),
        migrations.AddConstraint(
            model_name='outcome',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('record__isnull', False), ('state', 'done')), models.Q(models.Q(('state', 'done'), _negated=True), ('record__isnull', True)), _connector='OR'), name='outcome_record_when_done'),
        ),
        migrations.AddConstraint(
            model_name='outcome',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('state', 'failed'), models.Q(('failure', ''), _negated=True)), models.Q(models.Q(('state', 'failed'), _negated=True), ('failure', '')), _connector='OR'), name='outcome_reason_when_failed'),
        ),
        migrations.AddIndex(
            model_name='study',
            index=models.Index(fields=['owner', '-created_at', '-id'], name='study_of_owner'),
        ),
        migrations.AddIndex(
            model_name='study',
            index=models.Index(condition=models.Q(('guest', ''), _negated=True), fields=['guest', '-created_at'], name='study_of_guest'),
        ),
        migrations.AddConstraint(
            model_name='study',
            constraint=models.UniqueConstraint(condition=models.Q(('owner__isnull', False), models.Q(('idempotency_key', ''), _negated=True)), fields=('owner', 'idempotency_key'), name='study_once_per_owner_and_key'),
        ),
        migrations.AddConstraint(
            model_name='study',
            constraint=models.UniqueConstraint(condition=models.Q(('owner__isnull', True), models.Q(('idempotency_key', ''), _negated=True)), fields=('guest', 'idempotency_key'), name='study_once_per_guest_and_key'),
        ),
    ]
